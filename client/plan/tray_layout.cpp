#include "client/plan/tray_layout.hpp"

#include <algorithm>
#include <optional>

namespace takehold::client {
namespace {

// The lot to go on with: the largest that fits into the cells left, else the largest of all.
std::optional<std::size_t> next_lot(const std::vector<TrayNeed>& needs,
                                    const std::vector<char>& done, int room) {
  std::optional<std::size_t> fits, largest;
  const auto larger = [&](std::size_t i, const std::optional<std::size_t>& than) {
    return !than || needs[i].cells > needs[*than].cells;
  };
  for (std::size_t i = 0; i < needs.size(); ++i) {
    if (done[i] != 0 || needs[i].cells < 1) continue;
    if (needs[i].cells <= room && larger(i, fits)) fits = i;
    if (larger(i, largest)) largest = i;
  }
  return fits ? fits : largest;
}

class Filling {
 public:
  explicit Filling(int cells_per_tray) : size_(std::max(1, cells_per_tray)) {}

  int room() const { return trays_.empty() || used_ == size_ ? size_ : size_ - used_; }

  // Seeds are spread as evenly as whole seeds can be, the fuller cells first.
  void add(std::size_t need, const TrayNeed& lot) {
    int cells = lot.cells, seeds = lot.seeds;
    while (cells > 0) {
      if (trays_.empty() || used_ == size_) {
        trays_.emplace_back();
        used_ = 0;
      }
      const int here = std::min(cells, size_ - used_);
      int sown = 0;
      for (int i = 0; i < here; ++i) {
        const int in_cell = (seeds + cells - 1) / cells;
        sown += in_cell;
        seeds -= in_cell;
        --cells;
      }
      trays_.back().runs.push_back({need, used_ + 1, here, sown});
      used_ += here;
    }
  }

  std::vector<FilledTray> take() { return std::move(trays_); }

 private:
  int size_;
  int used_ = 0;  // cells of the last tray
  std::vector<FilledTray> trays_;
};

}  // namespace

std::vector<FilledTray> fill_trays(const std::vector<TrayNeed>& needs, int cells_per_tray) {
  Filling filling(cells_per_tray);
  std::vector<char> done(needs.size());
  while (const auto lot = next_lot(needs, done, filling.room())) {
    filling.add(*lot, needs[*lot]);
    done[*lot] = 1;
  }
  return filling.take();
}

}  // namespace takehold::client
