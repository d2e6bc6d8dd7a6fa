// Labels: for pots, cells and trays, on sheets, on a roll, or as stakes.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "client/print/paper.hpp"

namespace takehold::client {

/// What one label says.
struct Label {
  std::string headline{};            ///< the variety; of a graft the scion
  std::string under{};               ///< of a graft "on " and the rootstock; else empty
  std::vector<std::string> lines{};  ///< what it is, sown on, lot ...
  std::string code{};                ///< "S12" or "G7-3": in words and as a QR code
};

/// How labels lie on a page, in millimetres.
struct LabelStock {
  std::string name{};
  Size page{};
  Size label{};
  int columns = 1;
  int rows = 1;
  double left = 0, top = 0;  ///< of the first label
  double gap_x = 0, gap_y = 0;
  bool is_stake = false;  ///< its lower quarter goes into the soil and stays blank

  int on_a_page() const { return columns * rows; }
};

/// Sheets known by name: "a4-24", "a4-65", "letter-30" (sizes are common practice).
std::span<const LabelStock> label_sheets();
/// None for a name that is not among them.
std::optional<LabelStock> label_sheet(std::string_view name);
/// As many labels of this size as the page holds within the margins. Refused "does-not-fit" where
/// it holds none.
LabelStock label_sheet_of(Size page, Size label, Size margin, Size gap);
/// One label a page: a continuous roll.
LabelStock label_roll(Size label);
/// The same, to be stuck into the soil.
LabelStock label_stake(Size label);

/// Draws one label into its box. A label higher than wide is written from below upwards.
Fit draw_label(Paper& paper, const Box& box, const Label& label, bool is_stake);

/// Draws all of them, the first `skip` places left free (labels used before). Gives the codes of
/// those whose text had to be shortened.
std::vector<std::string> draw_labels(Paper& paper, const LabelStock& stock,
                                     std::span<const Label> labels, int skip = 0);

}  // namespace takehold::client
