#include "client/command/sown_trays.hpp"

#include <algorithm>

#include "client/command/opened_book.hpp"
#include "client/command/standing.hpp"
#include "client/plan/tray_layout.hpp"

namespace takehold::client {
namespace {

// In the order of the plan's own list: by lot.
std::vector<Sowing> sown_beside(const Book& book, const Sowing& sowing) {
  const auto day = [&](const Sowing& other) { return book.time_zone().day_of(other.at); };
  const std::string place = state_of(book, sowing).place;
  std::vector<Sowing> beside;
  for (const Sowing& other : book.all<Sowing>()) {
    if (day(other) == day(sowing) && state_of(book, other).place == place) beside.push_back(other);
  }
  std::stable_sort(beside.begin(), beside.end(),
                   [](const Sowing& a, const Sowing& b) { return a.lot < b.lot; });
  return beside;
}

}  // namespace

bool SownTray::holds(const std::string& sowing) const {
  return std::any_of(cells.begin(), cells.end(),
                     [&](const SownCell& cell) { return cell.sowing == sowing; });
}

std::vector<SownTray> trays_beside(const Book& book, const Sowing& sowing) {
  const std::vector<Sowing> sowings = sown_beside(book, sowing);
  std::vector<TrayNeed> needs;
  for (const Sowing& one : sowings) needs.push_back({one.id, one.seeds, std::max(1, one.cells)});
  const auto filled = fill_trays(needs, season_in(book).cells_per_tray);
  std::vector<int> sown(sowings.size());
  std::vector<SownTray> trays;
  for (const FilledTray& tray : filled) {
    SownTray laid{static_cast<int>(trays.size()) + 1, static_cast<int>(filled.size()), {}};
    for (const TrayRun& run : tray.runs) {
      int seeds = run.seeds;
      for (int left = run.cells; left > 0; --left) {
        const int here = (seeds + left - 1) / left;
        laid.cells.push_back({sowings[run.need].id, sown[run.need] + 1, here});
        sown[run.need] += here;
        seeds -= here;
      }
    }
    trays.push_back(std::move(laid));
  }
  return trays;
}

}  // namespace takehold::client
