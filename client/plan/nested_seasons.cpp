// Eight entries are compared at once: with all bytes below 128, the high bit of a byte of
// (entries | high bits) - counts tells whether that entry is at or above its count.
#include "client/plan/nested_seasons.hpp"

#include <algorithm>
#include <cassert>

namespace takehold::client {
namespace {

constexpr std::size_t kTogether = 8;
constexpr std::uint64_t kOnes = 0x0101010101010101u;
constexpr std::uint64_t kHigh = 0x8080808080808080u;
constexpr std::uint64_t kNever = 0x7F7F7F7F7F7F7F7Fu;
static_assert(CountWindow::kWidest < 0x7F,
              "so that a count's successor is a byte without high bit");

std::uint64_t eightfold_after(int count) {
  return kOnes * static_cast<std::uint64_t>(count + 1);
}

}  // namespace

void NestedSeasons::add(const NestedMatching& matching) {
  const auto& found = matching.entries();
  matched_.push_back({static_cast<std::uint32_t>(entries_.size()),
                      static_cast<std::uint16_t>(matching.always()),
                      static_cast<std::uint16_t>(found.size())});
  for (std::size_t i = 0; i < found.size(); i += kTogether) {
    Entries eight{kNever, kNever};
    for (std::size_t k = i; k < std::min(found.size(), i + kTogether); ++k) {
      eight.rootstocks = eight.rootstocks << 8 | found[k].rootstock;
      eight.scions = eight.scions << 8 | found[k].scion;
    }
    entries_.push_back(eight);
  }
}

int NestedSeasons::best_of(int season, SeedCounts counts) const {
  assert(window_.holds(counts));
  const std::uint64_t rootstocks = eightfold_after(counts.rootstock - window_.least.rootstock);
  const std::uint64_t scions = eightfold_after(counts.scion - window_.least.scion);
  int best = 0;
  for (std::size_t day = 0; day < days_; ++day) {
    const Day& matched = matched_[static_cast<std::size_t>(season) * days_ + day];
    if (matched.always + matched.entries <= best) continue;
    std::uint64_t hits = 0;  // a byte holds all: no more than kWidest entries a side
    const Entries* eight = entries_.data() + matched.begin;
    for (std::size_t i = 0; i < matched.entries; i += kTogether, ++eight) {
      const std::uint64_t above =
          ((eight->rootstocks | kHigh) - rootstocks) | ((eight->scions | kHigh) - scions);
      hits += (~above & kHigh) >> 7;
    }
    best = std::max(best, matched.always + static_cast<int>((hits * kOnes) >> 56));
  }
  return best;
}

}  // namespace takehold::client
