// Something to print on: pages of a PDF, one SVG, or one PNG. Everything is in millimetres from the
// upper left corner.
//
// A Paper owns what is drawn on it; one thread. Text is UTF-8 in any script the machine has letters
// for. Nothing is ever clipped: text that is too long for its box is broken into lines, then made
// smaller, and only then shortened with an ellipsis, which `Fit` says.
#pragma once

#include <filesystem>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "sensors/quantity/calendar.hpp"

namespace takehold::client {

/// Millimetres on paper.
struct Spot {
  double x = 0, y = 0;
};
struct Size {
  double width = 0, height = 0;
};
struct Box {
  double x = 0, y = 0, width = 0, height = 0;
  Box inset(double margin) const {
    return {x + margin, y + margin, width - 2 * margin, height - 2 * margin};
  }
};

/// Shades of black, and two colours that differ in print without colour, too.
struct Shade {
  double red = 0, green = 0, blue = 0;
};
inline constexpr Shade kBlack{0, 0, 0};
inline constexpr Shade kGrey{0.45, 0.45, 0.45};
inline constexpr Shade kPale{0.88, 0.90, 0.86};
inline constexpr Shade kLeaf{0.13, 0.40, 0.22};
inline constexpr Shade kBrick{0.65, 0.20, 0.12};

enum class Across { left, centre, right };
enum class Down { top, middle, bottom };

struct TextStyle {
  double size_pt = 10;
  double smallest_pt = 5;  ///< the text is made smaller down to this
  bool bold = false;
  Across across = Across::left;
  Down down = Down::top;
  Shade shade = kBlack;
};

enum class Fit {
  whole,      ///< all of it stands there, at some size from size_pt down to smallest_pt
  shortened,  ///< an ellipsis stands for the rest
};

enum class PaperKind { pdf, svg, png };
/// By the ending of the file's name; none for another ending.
std::optional<PaperKind> paper_kind(const std::filesystem::path& file);

class Paper {
 public:
  /// Nothing is written before finish(). `made_at` goes into a PDF as its date.
  Paper(const std::filesystem::path& file, PaperKind kind, Size page, sensors::Instant made_at);
  /// An SVG kept in memory, for a page of HTML.
  static Paper svg_text(Size page);
  Paper(Paper&&) noexcept;
  Paper& operator=(Paper&&) noexcept;
  ~Paper();

  Size page() const;
  /// Starts the next page. An SVG and a PNG have one page: refused "one-page-only".
  void next_page();
  int pages() const;
  /// Writes the file, whole or not at all. Throws Refused "cannot-write". Must be called; then
  /// nothing more is drawn.
  void finish();
  /// What svg_text drew; after finish().
  std::string svg() const;

  Fit text(const Box& box, std::string_view text, const TextStyle& style = {});
  /// How wide a line would be at its full size.
  double text_width(std::string_view text, const TextStyle& style = {}) const;
  /// Letters of texts drawn so far for which the machine has no font.
  int letters_without_font() const;

  void line(Spot from, Spot to, double width = 0.2, Shade shade = kBlack);
  void lines(std::span<const Spot> spots, double width, Shade shade = kBlack, bool dashed = false);
  void frame(const Box& box, double width = 0.2, Shade shade = kBlack);
  void fill(const Box& box, Shade shade);
  void dot(Spot centre, double radius, Shade shade = kBlack);
  /// A QR code (ISO/IEC 18004, level M) with its quiet zone, as large as the box allows. Throws
  /// Refused "too-long" for more than a code can hold.
  void code(const Box& box, std::string_view text);
  /// What is drawn inside `draw` is turned a quarter to the left about `box`, whose turned inside
  /// (height by width) it is given.
  template <class Draw>
  void turned(const Box& box, Draw draw) {
    begin_turned(box);
    draw(Box{0, 0, box.height, box.width});
    end_turned();
  }

 private:
  struct Inside;
  explicit Paper(std::unique_ptr<Inside> inside);
  void begin_turned(const Box& box);
  void end_turned();
  std::unique_ptr<Inside> inside_;
};

}  // namespace takehold::client
