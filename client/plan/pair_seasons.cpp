#include "client/plan/pair_seasons.hpp"

#include <algorithm>
#include <cstdlib>

#include "client/plan/stem_filter.hpp"

namespace takehold::client {
namespace {

// From which count on a stem is there, for the stems of one side that a window asks about.
class StemEntries {
 public:
  StemEntries(const SidePlan& plan, int least, int most) {
    PartCounts before{};
    for (int n = least; n <= most; ++n) {
      const PartCounts now = plan.spread(n);
      for (std::size_t part = 0; part < now.size(); ++part) {
        auto& from = from_[part];
        from.resize(static_cast<std::size_t>(std::max(before[part], now[part])),
                    static_cast<std::uint8_t>(n - least));
      }
      before = now;
    }
  }

  const std::vector<NestedStem>& of(std::span<const StemKey> stems) {
    found_.clear();
    for (const StemKey stem : stems) {
      const auto& from = from_[stem.sowing()];
      if (stem.seed() < from.size()) found_.push_back({stem.um(), from[stem.seed()]});
    }
    return found_;
  }

 private:
  std::array<std::vector<std::uint8_t>, StemKey::kMostSowings> from_{};  // by part and seed
  std::vector<NestedStem> found_{};
};

}  // namespace

PairSeasons::PairSeasons(SidePlan rootstock, SidePlan scion, std::vector<int> shifts,
                         const MatchCounter& counter, DrawStore& store, Perfect perfect)
    : rootstock_{std::move(rootstock)},
      scion_{std::move(scion)},
      shifts_(std::move(shifts)),
      counter_(&counter),
      store_(&store),
      perfect_(perfect) {
  // The planned day first: it is mostly the best, and the others need not be looked at closely.
  std::stable_sort(shifts_.begin(), shifts_.end(),
                   [](int a, int b) { return std::abs(a) < std::abs(b); });
}

void PairSeasons::grow(Side& side, int seeds) {
  if (seeds <= side.capacity) return;
  side.capacity = std::max(seeds, side.capacity + side.capacity / 6);
  side.stems.clear();
  side.stems.push_back(store_->stems(side.plan, side.capacity, shifts_, perfect_));
}

void PairSeasons::match_within(const CountWindow& window) {
  grow(rootstock_, window.most.rootstock);
  grow(scion_, window.most.scion);
  StemEntries below(rootstock_.plan, window.least.rootstock, window.most.rootstock);
  StemEntries above(scion_.plan, window.least.scion, window.most.scion);
  NestedMatching matching(*counter_);
  nested_.emplace(window, shifts_.size());
  for (int season = 0; season < seasons(); ++season) {
    for (std::size_t day = 0; day < shifts_.size(); ++day) {
      matching.match(below.of(rootstock_.stems.front().on(season, day)),
                     above.of(scion_.stems.front().on(season, day)));
      nested_->add(matching);
    }
  }
}

void PairSeasons::count_with(const MatchCounter& counter) {
  counter_ = &counter;
  nested_.reset();
  spreads_.clear();
}

int PairSeasons::best_by_itself(int season, const PartCounts& rootstock, const PartCounts& scion) {
  int best = 0;
  const auto is_worth_counting = [&](const auto& stems) {
    return static_cast<int>(stems.size()) > best;
  };
  for (std::size_t day = 0; day < shifts_.size(); ++day) {
    const auto below = rootstock_.stems.front().on(season, day);
    const auto above = scion_.stems.front().on(season, day);
    if (!is_worth_counting(below) || !is_worth_counting(above)) continue;
    keep_stems(below, rootstock, below_);
    keep_stems(above, scion, above_);
    if (!is_worth_counting(below_) || !is_worth_counting(above_)) continue;
    best = std::max(best, counter_->count(below_, above_));
  }
  return best;
}

std::vector<std::uint16_t> PairSeasons::pairs(SeedCounts counts) {
  std::vector<std::uint16_t> pairs;
  pairs.reserve(static_cast<std::size_t>(seasons()));
  if (nested_ && nested_->window().holds(counts)) {
    for (int season = 0; season < seasons(); ++season) {
      pairs.push_back(static_cast<std::uint16_t>(nested_->best_of(season, counts)));
    }
    return pairs;
  }
  grow(rootstock_, counts.rootstock);
  grow(scion_, counts.scion);
  const PartCounts below = rootstock_.plan.spread(counts.rootstock);
  const PartCounts above = scion_.plan.spread(counts.scion);
  for (int season = 0; season < seasons(); ++season) {
    pairs.push_back(static_cast<std::uint16_t>(best_by_itself(season, below, above)));
  }
  return pairs;
}

const PairSpread& PairSeasons::spread(SeedCounts counts) {
  const auto [place, is_new] = spreads_.try_emplace(counts);
  if (!is_new) return place->second;
  std::vector<int> seen;
  for (const std::uint16_t pairs : pairs(counts)) {
    if (pairs >= seen.size()) seen.resize(pairs + std::size_t{1});
    ++seen[pairs];
  }
  PairSpread& spread = place->second;
  for (const int n : seen) spread.push_back(static_cast<double>(n) / seasons());
  return spread;
}

}  // namespace takehold::client
