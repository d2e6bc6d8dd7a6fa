#include "client/plan/age_search.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <numeric>

namespace takehold::client {
namespace {

constexpr double kBehind = 3;  // paired standard errors
constexpr int kStages[] = {128, 256, 512, 1024, 2048};

struct Candidate {
  AgePair ages;
  std::vector<std::uint16_t> pairs{};  // on the best day, season by season

  double mean() const {
    return std::accumulate(pairs.begin(), pairs.end(), 0.0) / static_cast<double>(pairs.size());
  }
};

// One side's stems at every age that the candidates ask about.
class AgedSide {
 public:
  AgedSide(const AgeSide& side, int youngest, int oldest, DrawStore& store, SeasonRange seasons)
      : youngest_(youngest),
        days_(static_cast<std::size_t>(oldest - youngest + 1)),
        stems_(sowings(side, store), days_from(youngest), seasons, false) {}

  std::span<const StemKey> at(int season, int age) const { return stems_.on(season, index(age)); }
  std::size_t index(int age) const { return static_cast<std::size_t>(age - youngest_); }
  std::size_t size() const { return days_; }

 private:
  static std::vector<SideSowing> sowings(const AgeSide& side, DrawStore& store) {
    auto sowings = store.sowings(side.plan, side.seeds, {});
    if (side.ages.empty()) return sowings;
    for (SideSowing& sowing : sowings) sowing.days_to_graft = 0;
    return sowings;
  }
  std::vector<int> days_from(int youngest) const {
    std::vector<int> days(days_);
    std::iota(days.begin(), days.end(), youngest);
    return days;
  }

  int youngest_;
  std::size_t days_;
  SideStems stems_;
};

class AgeComparison {
 public:
  AgeComparison(const AgeSide& rootstock, const AgeSide& scion, std::vector<int> shifts,
                const MatchCounter& counter, DrawStore& store)
      : rootstock_(rootstock),
        scion_(scion),
        shifts_(std::move(shifts)),
        counter_(counter),
        store_(store) {
    // The planned day first: it is mostly the best, and the others need not be looked at closely.
    std::stable_sort(shifts_.begin(), shifts_.end(),
                     [](int a, int b) { return std::abs(a) < std::abs(b); });
  }

  void compare(std::vector<Candidate>& candidates, SeasonRange seasons) const {
    const AgedSide below = aged(rootstock_, candidates, &AgePair::rootstock, seasons);
    const AgedSide above = aged(scion_, candidates, &AgePair::scion, seasons);
    std::vector<int> counted;
    for (int season = seasons.first; season < seasons.end; ++season) {
      counted.assign(below.size() * above.size(), -1);
      for (Candidate& candidate : candidates) {
        const int best = best_of(candidate.ages, season, below, above, counted);
        candidate.pairs.push_back(static_cast<std::uint16_t>(best));
      }
    }
  }

 private:
  AgedSide aged(const AgeSide& side, const std::vector<Candidate>& candidates,
                MiddleSeedling AgePair::*which, SeasonRange seasons) const {
    int youngest = kNoLimit, oldest = 0;
    for (const Candidate& candidate : candidates) {
      youngest = std::min(youngest, (candidate.ages.*which).age);
      oldest = std::max(oldest, (candidate.ages.*which).age);
    }
    const auto [first, last] = std::minmax_element(shifts_.begin(), shifts_.end());
    return {side, youngest + *first, oldest + *last, store_, seasons};
  }

  int best_of(const AgePair& ages, int season, const AgedSide& below, const AgedSide& above,
              std::vector<int>& counted) const {
    int best = 0;
    for (const int shift : shifts_) {
      const int r = ages.rootstock.age + shift, s = ages.scion.age + shift;
      const auto rootstocks = below.at(season, r), scions = above.at(season, s);
      if (static_cast<int>(std::min(rootstocks.size(), scions.size())) <= best) continue;
      int& count = counted[below.index(r) * above.size() + above.index(s)];
      if (count < 0) count = counter_.count(rootstocks, scions);
      best = std::max(best, count);
    }
    return best;
  }

  const AgeSide& rootstock_;
  const AgeSide& scion_;
  std::vector<int> shifts_;
  const MatchCounter& counter_;
  DrawStore& store_;
};

// Leaves the candidates that are no more than `errors` paired standard errors behind the best.
void drop_those_behind(std::vector<Candidate>& candidates, double errors) {
  const Candidate top =
      *std::max_element(candidates.begin(), candidates.end(),
                        [](const Candidate& a, const Candidate& b) { return a.mean() < b.mean(); });
  const auto n = static_cast<double>(top.pairs.size());
  std::erase_if(candidates, [&](const Candidate& candidate) {
    const double behind = top.mean() - candidate.mean();
    double square = 0;
    for (std::size_t i = 0; i < top.pairs.size(); ++i) {
      const double off = static_cast<double>(top.pairs[i]) - candidate.pairs[i] - behind;
      square += off * off;
    }
    return behind > errors * std::sqrt(square) / n;
  });
}

GraftAges ages_of(const AgePair& pair, const AgeSide& rootstock, const AgeSide& scion) {
  GraftAges ages;
  if (!rootstock.ages.empty()) ages.rootstock_days = pair.rootstock.age;
  if (!scion.ages.empty()) ages.scion_days = pair.scion.age;
  return ages;
}

}  // namespace

std::optional<GraftAges> search_ages(const AgeSide& rootstock, const AgeSide& scion,
                                     std::vector<int> shifts, const MatchCounter& counter,
                                     DrawStore& store, int seasons) {
  std::vector<Candidate> candidates;
  for (const AgePair& pair : ages_worth_trying(rootstock, scion)) candidates.push_back({pair});
  if (candidates.empty()) return std::nullopt;
  const AgeComparison comparison(rootstock, scion, std::move(shifts), counter, store);
  int compared = 0;
  for (const int end : kStages) {
    if (candidates.size() == 1 || end >= seasons) break;
    comparison.compare(candidates, {compared, end});
    drop_those_behind(candidates, kBehind);
    compared = end;
  }
  if (candidates.size() > 1) {
    comparison.compare(candidates, {compared, seasons});
    drop_those_behind(candidates, 1);
  }
  const auto best = std::min_element(
      candidates.begin(), candidates.end(), [](const Candidate& a, const Candidate& b) {
        if (a.ages.apart() != b.ages.apart()) return a.ages.apart() < b.ages.apart();
        return a.ages.rootstock.age + a.ages.scion.age < b.ages.rootstock.age + b.ages.scion.age;
      });
  return ages_of(best->ages, rootstock, scion);
}

}  // namespace takehold::client
