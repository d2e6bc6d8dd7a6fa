// Which lot stands in which cell of which tray.
#pragma once

#include <string>
#include <vector>

namespace takehold::client {

/// A lot's cells of one sowing.
struct TrayNeed {
  std::string name{};  ///< the lot, or whatever the cells are labelled with
  int seeds = 0;
  int cells = 0;
};

/// Neighbouring cells of one tray that hold one lot. Cells are numbered from 1.
struct TrayRun {
  std::size_t need = 0;  ///< which of the needs
  int first_cell = 1;
  int cells = 0;
  int seeds = 0;
};

struct FilledTray {
  std::vector<TrayRun> runs{};
};

/// Trays of `cells_per_tray` for what is sown on one day, as few as can be. No cell holds two lots;
/// a lot's cells follow each other, from tray to tray if need be; a lot that fits into what is left
/// of a tray is put there before one is cut in two. Needs without cells get none.
std::vector<FilledTray> fill_trays(const std::vector<TrayNeed>& needs, int cells_per_tray);

}  // namespace takehold::client
