#include "client/print/label.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "sensors/quantity/problem.hpp"

namespace takehold::client {
namespace {

constexpr double kPointsAMillimetre = 72 / 25.4;
// Printers and cutters are off by up to about a millimetre; office printers leave 3 to 4 mm of a page
// blank, to which labels of full sheets reach.
constexpr double kInset = 1.5, kWideInset = 4;
constexpr double kWide = 50;  // mm: from here there is room for the wide one
constexpr double kCodeShare = 0.4;   // of the label's width at most goes to the QR code
constexpr double kSmallestCode = 7;  // mm: below, a telephone cannot read its modules
constexpr double kSoil = 0.25;
constexpr double kUpright = 1.5;  // higher than wide by this: written upwards
constexpr double kGapAfter = 1;   // between text and code

Box place_of(const LabelStock& stock, int index) {
  const int column = index % stock.columns, row = index / stock.columns;
  return {stock.left + column * (stock.label.width + stock.gap_x),
          stock.top + row * (stock.label.height + stock.gap_y), stock.label.width,
          stock.label.height};
}

// One line's height as a size of letters: they take about three quarters of it.
double size_for(double height) {
  return height * kPointsAMillimetre * 0.75;
}

class Stack {
 public:
  Stack(Paper& paper, Box box) : paper_(paper), box_(box) {}

  void write(std::string_view text, double height, TextStyle style) {
    style.size_pt = std::min(style.size_pt, size_for(height));
    style.smallest_pt = std::min(style.smallest_pt, style.size_pt);
    style.down = Down::middle;
    const Box line{box_.x, box_.y + used_, box_.width, height};
    if (paper_.text(line, text, style) == Fit::shortened) fit_ = Fit::shortened;
    used_ += height;
  }
  Fit fit() const { return fit_; }

 private:
  Paper& paper_;
  Box box_;
  double used_ = 0;
  Fit fit_ = Fit::whole;
};

// Shares of height: the name counts twice or more, every other line once.
Fit write_text(Paper& paper, const Box& box, const Label& label) {
  const double of_name = 2.2, of_under = label.under.empty() ? 0 : 1.4;
  const double unit = box.height / (of_name + of_under + static_cast<double>(label.lines.size()));
  Stack stack(paper, box);
  stack.write(label.headline, of_name * unit, {.size_pt = 22, .smallest_pt = 5, .bold = true});
  if (of_under > 0) {
    stack.write(label.under, of_under * unit, {.size_pt = 15, .smallest_pt = 5, .bold = true});
  }
  // One block, so that a long line takes of the height what a short one leaves.
  const double rest = box.height - (of_name + of_under) * unit;
  if (!label.lines.empty()) {
    stack.write(fmt::format("{}", fmt::join(label.lines, "\n")), rest,
                {.size_pt = std::min(10.0, size_for(unit)), .smallest_pt = 4});
  }
  return stack.fit();
}

Fit draw_level(Paper& paper, const Box& whole, const Label& label) {
  Box box = whole.inset(whole.width >= kWide ? kWideInset : kInset);
  const double word = std::min(4.0, box.height * 0.22);  // the code in words, under the code
  const double side = std::min({box.height - word, box.width * kCodeShare, 26.0});
  if (side >= kSmallestCode) {
    const Box code{box.x + box.width - side, box.y, side, side};
    paper.code(code, label.code);
    const Box words{code.x, code.y + side, side, word};
    const Fit fit = paper.text(words, label.code,
                               {.size_pt = size_for(word),
                                .smallest_pt = 4,
                                .bold = true,
                                .across = Across::centre,
                                .down = Down::top});
    box.width -= side + kGapAfter;
    if (write_text(paper, box, label) == Fit::whole && fit == Fit::whole) return Fit::whole;
    return Fit::shortened;
  }
  Label all = label;  // no room for a code that could be read: only in words
  all.lines.push_back(label.code);
  return write_text(paper, box, all);
}

}  // namespace

std::span<const LabelStock> label_sheets() {
  static const std::array<LabelStock, 3> sheets{
      LabelStock{"a4-24", {210, 297}, {70, 37}, 3, 8, 0, 0.5, 0, 0, false},
      LabelStock{"a4-65", {210, 297}, {38.1, 21.2}, 5, 13, 4.75, 10.7, 2.5, 0, false},
      LabelStock{"letter-30", {215.9, 279.4}, {66.7, 25.4}, 3, 10, 4.8, 12.7, 3.1, 0, false}};
  return sheets;
}

std::optional<LabelStock> label_sheet(std::string_view name) {
  for (const LabelStock& stock : label_sheets()) {
    if (stock.name == name) return stock;
  }
  return std::nullopt;
}

LabelStock label_sheet_of(Size page, Size label, Size margin, Size gap) {
  constexpr double kHair = 1e-6;  // three labels of 70 fill 210
  const auto fit = [&](double room, double size, double between) {
    return static_cast<int>(std::floor((room + between) / (size + between) + kHair));
  };
  LabelStock stock{"own",        page,          label,     0,          0,
                   margin.width, margin.height, gap.width, gap.height, false};
  stock.columns = fit(page.width - 2 * margin.width, label.width, gap.width);
  stock.rows = fit(page.height - 2 * margin.height, label.height, gap.height);
  if (label.width <= 0 || label.height <= 0 || stock.columns < 1 || stock.rows < 1) {
    throw sensors::Refused({"does-not-fit",
                            fmt::format("no label of {:g} x {:g} mm fits on a page of {:g} x {:g}",
                                        label.width, label.height, page.width, page.height),
                            "", "--label", "width x height, in millimetres"});
  }
  return stock;
}

LabelStock label_roll(Size label) {
  LabelStock stock = label_sheet_of(label, label, {}, {});
  stock.name = "roll";
  return stock;
}

LabelStock label_stake(Size label) {
  LabelStock stock = label_roll(label);
  stock.name = "stake";
  stock.is_stake = true;
  return stock;
}

Fit draw_label(Paper& paper, const Box& whole, const Label& label, bool is_stake) {
  Box box = whole;
  const bool upright = box.height > kUpright * box.width;
  if (is_stake) {  // the end in the soil: below, or at the left of one that lies
    const double soil = kSoil * (upright ? box.height : box.width);
    if (!upright) box.x += soil;
    (upright ? box.height : box.width) -= soil;
  }
  if (!upright) return draw_level(paper, box, label);
  Fit fit = Fit::whole;
  paper.turned(box, [&](const Box& inside) { fit = draw_level(paper, inside, label); });
  return fit;
}

std::vector<std::string> draw_labels(Paper& paper, const LabelStock& stock,
                                     std::span<const Label> labels, int skip) {
  std::vector<std::string> shortened;
  int place = skip % stock.on_a_page();
  for (std::size_t i = 0; i < labels.size(); ++i, ++place) {
    if (place == stock.on_a_page()) {
      paper.next_page();
      place = 0;
    }
    if (draw_label(paper, place_of(stock, place), labels[i], stock.is_stake) == Fit::shortened) {
      shortened.push_back(labels[i].code);
    }
  }
  return shortened;
}

}  // namespace takehold::client
