#include "client/plan/age_search.hpp"

#include <algorithm>
#include <cmath>

namespace takehold::client {
namespace {

// Middle seedlings further than this from a graftable size are not tried: even a lot two standard
// deviations off (vigour sd 0.20) is hardly graftable then.
constexpr double kThinnestMiddle = 1.3;  // mm
constexpr double kThickestMiddle = 3.0;
constexpr double kUnlike = 0.3;  // ln of the ratio of middle diameters
constexpr double kLeeway = 0.1;  // beyond the most alike that the allowed days leave
constexpr double kBehind = 4;    // paired standard errors
constexpr int kStages[] = {128, 512};

struct Candidate {
  int age;
  double ln_mm;  // of the middle seedling
};

struct AgePair {
  Candidate rootstock;
  Candidate scion;
  double apart() const { return std::abs(rootstock.ln_mm - scion.ln_mm); }
};

double ln_middle(const PlannedPart& part, int age) {
  const auto middle =
      middle_seedling(*part.course, part.lot.middle_speed(), StemGrowth{}, Age(age));
  return middle ? std::log(middle->diameter.mm()) : -INFINITY;
}

std::vector<Candidate> candidates(const AgeSide& side) {
  if (side.ages.empty()) {
    // Fixed parts: the largest stands for the side.
    const auto main = std::max_element(
        side.plan.parts.begin(), side.plan.parts.end(),
        [](const PlannedPart& a, const PlannedPart& b) { return a.sown < b.sown; });
    return {{0, ln_middle(*main, main->days_to_graft)}};
  }
  std::vector<Candidate> found;
  for (const int age : side.ages) {
    const double ln_mm = ln_middle(side.plan.parts.front(), age);
    if (ln_mm < std::log(kThinnestMiddle) || ln_mm > std::log(kThickestMiddle)) continue;
    found.push_back({age, ln_mm});
  }
  return found;
}

std::vector<AgePair> worth_trying(const AgeSide& rootstock, const AgeSide& scion) {
  std::vector<AgePair> pairs;
  double least = INFINITY;
  for (const Candidate& r : candidates(rootstock)) {
    for (const Candidate& s : candidates(scion)) {
      pairs.push_back({r, s});
      least = std::min(least, pairs.back().apart());
    }
  }
  const double most = std::max(kUnlike, least + kLeeway);
  std::erase_if(pairs, [&](const AgePair& pair) { return pair.apart() > most; });
  return pairs;
}

// One side's stems at every age that a stage looks at.
class AgedSide {
 public:
  AgedSide(const AgeSide& side, int youngest, int oldest, DrawStore& store, int seasons)
      : youngest_(youngest) {
    const PartCounts counts = side.plan.spread(side.seeds);
    for (int age = youngest; age <= oldest; ++age) ages_.push_back(age);
    std::vector<SideSowing> sowings;
    for (std::size_t i = 0; i < side.plan.parts.size(); ++i) {
      const PlannedPart& part = side.plan.parts[i];
      const int days = side.ages.empty() ? part.days_to_graft : 0;
      sowings.push_back(
          {&store.sowing(part, counts[i], false), &store.luck(part.lot), part.course, days});
    }
    stems_.emplace_back(sowings, ages_, seasons, false);
    for (std::size_t i = 0; i < counts.size(); ++i) most_[i] = counts[i];
  }

  void begin(int season) {
    for (std::size_t i = 0; i < ages_.size(); ++i) {
      auto& um = um_.size() > i ? um_[i] : um_.emplace_back();
      um.clear();
      for (const StemKey stem : stems_.front().on(season, i)) {
        if (stem.seed() < static_cast<std::uint32_t>(most_[stem.sowing()])) um.push_back(stem.um());
      }
    }
  }
  const std::vector<std::uint16_t>& at(int age) const { return um_[index(age)]; }
  std::size_t index(int age) const { return static_cast<std::size_t>(age - youngest_); }
  std::size_t size() const { return ages_.size(); }

 private:
  int youngest_;
  std::vector<int> ages_;
  std::vector<SideStems> stems_;
  PartCounts most_{};
  std::vector<std::vector<std::uint16_t>> um_;
};

using SeasonPairs = std::vector<std::uint16_t>;

class Stage {
 public:
  Stage(const AgeSide& rootstock, const AgeSide& scion, const std::vector<int>& shifts,
        const MatchCounter& counter, DrawStore& store)
      : rootstock_(rootstock), scion_(scion), shifts_(shifts), counter_(counter), store_(store) {}

  // Pairs on the best day, for each candidate, season by season.
  std::vector<SeasonPairs> pairs(const std::vector<AgePair>& candidates, int seasons) const {
    AgedSide below = aged(rootstock_, candidates, &AgePair::rootstock, seasons);
    AgedSide above = aged(scion_, candidates, &AgePair::scion, seasons);
    std::vector<SeasonPairs> all(candidates.size());
    std::vector<int> counted;
    for (int season = 0; season < seasons; ++season) {
      below.begin(season);
      above.begin(season);
      counted.assign(below.size() * above.size(), -1);
      for (std::size_t c = 0; c < candidates.size(); ++c) {
        all[c].push_back(static_cast<std::uint16_t>(best_of(candidates[c], below, above, counted)));
      }
    }
    return all;
  }

 private:
  AgedSide aged(const AgeSide& side, const std::vector<AgePair>& candidates,
                Candidate AgePair::*which, int seasons) const {
    int youngest = kNoLimit, oldest = 0;
    for (const AgePair& pair : candidates) {
      youngest = std::min(youngest, (pair.*which).age);
      oldest = std::max(oldest, (pair.*which).age);
    }
    const auto [first, last] = std::minmax_element(shifts_.begin(), shifts_.end());
    return {side, youngest + *first, oldest + *last, store_, seasons};
  }

  int best_of(const AgePair& pair, const AgedSide& below, const AgedSide& above,
              std::vector<int>& counted) const {
    int best = 0;
    for (const int shift : shifts_) {
      const int r = pair.rootstock.age + shift, s = pair.scion.age + shift;
      int& count = counted[below.index(r) * above.size() + above.index(s)];
      if (count < 0) count = counter_.count(below.at(r), above.at(s));
      best = std::max(best, count);
    }
    return best;
  }

  const AgeSide& rootstock_;
  const AgeSide& scion_;
  const std::vector<int>& shifts_;
  const MatchCounter& counter_;
  DrawStore& store_;
};

double mean(const SeasonPairs& pairs) {
  double sum = 0;
  for (const auto count : pairs) sum += count;
  return sum / static_cast<double>(pairs.size());
}

// Leaves the candidates that are no more than `errors` paired standard errors behind the best.
void drop_those_behind(std::vector<AgePair>& candidates, const std::vector<SeasonPairs>& pairs,
                       double errors) {
  std::vector<double> means;
  for (const SeasonPairs& seasons : pairs) means.push_back(mean(seasons));
  const auto top =
      static_cast<std::size_t>(std::max_element(means.begin(), means.end()) - means.begin());
  std::vector<AgePair> left;
  for (std::size_t c = 0; c < candidates.size(); ++c) {
    const double behind = means[top] - means[c];
    double square = 0;
    for (std::size_t i = 0; i < pairs[c].size(); ++i) {
      const double off = static_cast<double>(pairs[top][i]) - pairs[c][i] - behind;
      square += off * off;
    }
    const auto n = static_cast<double>(pairs[c].size());
    if (behind <= errors * std::sqrt(square) / n) left.push_back(candidates[c]);
  }
  candidates = std::move(left);
}

}  // namespace

std::optional<GraftAges> search_ages(const AgeSide& rootstock, const AgeSide& scion,
                                     const std::vector<int>& shifts, const MatchCounter& counter,
                                     DrawStore& store) {
  std::vector<AgePair> candidates = worth_trying(rootstock, scion);
  if (candidates.empty()) return std::nullopt;
  const Stage stage(rootstock, scion, shifts, counter, store);
  for (const int seasons : kStages) {
    if (candidates.size() == 1 || seasons >= store.seasons()) continue;
    drop_those_behind(candidates, stage.pairs(candidates, seasons), kBehind);
  }
  if (candidates.size() > 1) {
    const int seasons = std::min(kAgeSeasons, store.seasons());
    drop_those_behind(candidates, stage.pairs(candidates, seasons), 1);
  }
  const auto best = std::min_element(
      candidates.begin(), candidates.end(), [](const AgePair& a, const AgePair& b) {
        if (a.apart() != b.apart()) return a.apart() < b.apart();
        return a.rootstock.age + a.scion.age < b.rootstock.age + b.scion.age;
      });
  GraftAges ages;
  if (!rootstock.ages.empty()) ages.rootstock_days = best->rootstock.age;
  if (!scion.ages.empty()) ages.scion_days = best->scion.age;
  return ages;
}

}  // namespace takehold::client
