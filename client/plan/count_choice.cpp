#include "client/plan/count_choice.hpp"

#include <algorithm>

namespace takehold::client {
namespace {

constexpr int kFurthest = 60;  // seeds from a window's middle, large as the counts may be
constexpr int kWindows = 4;    // looked into before the limits alone are the bounds
constexpr int kMargin = 2;     // seeds that a window shall reach beyond where few seasons point

CountWindow window_around(SeedCounts middle, SeedCounts limits) {
  const auto least = [](int n) { return std::max(0, n - std::min(n / 8 + 4, kFurthest)); };
  const auto most = [](int n, int limit) {
    return std::min(limit, n + std::min(n / 8 + 3, kFurthest));
  };
  return {{least(middle.rootstock), least(middle.scion)},
          {most(middle.rootstock, limits.rootstock), most(middle.scion, limits.scion)}};
}

}  // namespace

std::optional<SeedCounts> CountChoice::where_few_say(double confidence) {
  CountSearch look(few_, chance_, costs_, {{}, limits_});
  const auto first = look.cheapest(confidence);
  if (!first) return std::nullopt;
  look_around(first->seeds);
  const double luck = chance_.probability(few_.spread(first->seeds), first->grafts) -
                      chance_.probability(all_.spread(first->seeds), first->grafts);
  const auto corrected = look.cheapest(std::min(confidence + luck, 1.0), first->seeds);
  return corrected ? corrected->seeds : first->seeds;
}

void CountChoice::look_around(SeedCounts middle) {
  window_ = window_around(middle, limits_);
  all_.match_within(window_);
}

// Seeds to the nearest edge beyond which there are counts to be had.
int CountChoice::to_edge(SeedCounts counts) const {
  const auto to = [](int n, int least, int most, int limit) {
    return std::min(least > 0 ? n - least : kNoLimit, most < limit ? most - n : kNoLimit);
  };
  const auto& [least, most] = window_;
  return std::min(to(counts.rootstock, least.rootstock, most.rootstock, limits_.rootstock),
                  to(counts.scion, least.scion, most.scion, limits_.scion));
}

std::optional<PairCounts> CountChoice::cheapest(double confidence, std::optional<SeedCounts> near) {
  if (near) {
    look_around(*near);
  } else if (near = where_few_say(confidence); !near) {
    return std::nullopt;
  } else if (to_edge(*near) < kMargin) {
    look_around(*near);
  }
  for (int i = 0; i < kWindows; ++i) {
    const auto found = CountSearch(all_, chance_, costs_, window_).cheapest(confidence, near);
    if (found && to_edge(found->seeds) > 0) return found;
    near = found ? found->seeds : window_.most;
    look_around(*near);
  }
  return CountSearch(all_, chance_, costs_, {{}, limits_}).cheapest(confidence, near);
}

PairCounts CountChoice::nearly_best(double below) {
  const double best = chance_.probability(few_.spread(limits_), chance_.most_grafts());
  CountSearch look(few_, chance_, costs_, {{}, limits_});
  return look.cheapest(std::max(0.0, best - below)).value_or(PairCounts{});
}

}  // namespace takehold::client
