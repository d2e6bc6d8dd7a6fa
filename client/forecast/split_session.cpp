#include "client/forecast/split_session.hpp"

#include <algorithm>

#include "client/forecast/season_outcome.hpp"

namespace takehold::client {
namespace {

// Walks both sorted sides and makes every pair it can, thinnest first: as many as any way.
class Walk {
 public:
  Walk(const ForecastRequest& request, const ForecastPairing& pairing,
       const std::vector<TrayGrowth>& grown)
      : pairing_(pairing),
        grown_(grown),
        tolerance_(Tolerance::percent_of_mean(request.season.tolerance_pct)) {}

  void begin() {
    used_below_.clear();
    used_above_.clear();
  }

  /// Pairs of stems not used yet; with `use` they are used from then on.
  int pairs(int season, int day, int most, bool use) {
    side_on(pairing_.rootstocks, grown_, season, day, below_);
    side_on(pairing_.scions, grown_, season, day, above_);
    drop(below_, used_below_);
    drop(above_, used_above_);
    int made = 0;
    for (std::size_t i = 0, j = 0; i < below_.size() && j < above_.size() && made < most;) {
      if (tolerance_.allows(below_[i].um, above_[j].um)) {
        if (use) used_below_.push_back(below_[i].who);
        if (use) used_above_.push_back(above_[j].who);
        ++made, ++i, ++j;
      } else {
        (below_[i].um < above_[j].um ? i : j) += 1;
      }
    }
    return made;
  }

 private:
  static void drop(std::vector<DayStem>& stems, const std::vector<std::uint32_t>& used) {
    if (used.empty()) return;
    std::erase_if(stems, [&](const DayStem& stem) {
      return std::find(used.begin(), used.end(), stem.who) != used.end();
    });
  }

  const ForecastPairing& pairing_;
  const std::vector<TrayGrowth>& grown_;
  Tolerance tolerance_;
  std::vector<DayStem> below_{}, above_{};
  std::vector<std::uint32_t> used_below_{}, used_above_{};
};

}  // namespace

SplitPairs split_pairs(const ForecastRequest& request, const ForecastPairing& pairing,
                       const std::vector<TrayGrowth>& grown, Day first) {
  const auto allowed = work_days(request);
  const int first_day = static_cast<int>((first - request.today).count());
  const int last_day =
      std::min(request.days - 1, static_cast<int>((pairing.last_on - request.today).count()));
  SplitPairs split;
  Walk walk(request, pairing, grown);
  for (int season = 0; season < request.seasons; ++season) {
    walk.begin();
    const int early = walk.pairs(season, first_day, pairing.grafts, true);
    int later = 0;
    for (int day = first_day + 1; day <= last_day; ++day) {
      if (!allowed[static_cast<std::size_t>(day)]) continue;
      later = std::max(later, walk.pairs(season, day, pairing.grafts - early, false));
    }
    split.all.push_back(static_cast<std::uint16_t>(early + later));
    split.first += static_cast<double>(early) / request.seasons;
  }
  return split;
}

}  // namespace takehold::client
