#include "client/plan/waves.hpp"

#include <algorithm>
#include <cmath>

#include "client/plan/count_choice.hpp"
#include "client/plan/counts.hpp"
#include "client/plan/graft_day.hpp"

namespace takehold::client {
namespace {

constexpr int kFirstSeasons = 128;  // tell the worst ways from the finalists
constexpr std::size_t kFinalists = 3;
constexpr int kLookSeasons = 512;     // and whether the best of those is worth a search
constexpr int kSearchSeasons = 1024;  // look for its counts and compare; all seasons judge those
constexpr double kSure = 2;           // standard errors of a paired difference
// Days between the first wave and the last.
constexpr int kSpansOfTwo[] = {1, 2, 3, 5};
constexpr int kSpansOfThree[] = {2, 4, 6};

bool is_plain(const SidePlan& side) {
  return side.parts.size() == 1 && side.sown() == 0;
}

struct Sides {
  SidePlan rootstock;
  SidePlan scion;
};

class Waves {
 public:
  Waves(const PlanBasis& basis, PairDraft& draft)
      : basis_(basis),
        draft_(draft),
        take_(take_of(basis, *draft.pairing)),
        chance_(chance_of(basis, take_, *draft.pairing)),
        prices_(prices_of(basis.request.season)),
        one_{draft.rootstock, draft.scion},
        affordable_((1 - kWorthWaves) * cost(one_, draft.needed)),
        ages_(ages_allowed(basis.request, basis.course, *draft.graft_on)) {}

  bool try_all() {
    const std::vector<PairCounts> cheaper = cheaper_counts();
    if (cheaper.empty()) return false;
    std::vector<Sides> left = ways();
    DrawStore first(kPlanSeed, std::min(kFirstSeasons, basis_.request.seasons));
    keep_best(left, first, {cheaper.back()}, kFinalists);
    DrawStore few(kPlanSeed, std::min(kLookSeasons, basis_.request.seasons));
    const double reached = keep_best(left, few, cheaper, 1);
    if (left.empty() || reached - luck_in(few) < basis_.request.season.confidence) return false;
    return decide(left.front(), few);
  }

 private:
  double cost(const Sides& sides, const PairCounts& counts) const {
    return CountCosts(sides.rootstock, sides.scion, prices_).of(counts);
  }
  PairSeasons seasons(DrawStore& store, const Sides& sides) const {
    return {sides.rootstock, sides.scion, draft_.shifts, basis_.counter, store};
  }
  double best_chance(DrawStore& store, const Sides& sides,
                     const std::vector<PairCounts>& of) const {
    PairSeasons each = seasons(store, sides);
    double best = 0;
    for (const PairCounts& counts : of) {
      best = std::max(best, chance_.probability(each.spread(counts.seeds), counts.grafts));
    }
    return best;
  }

  // The ways that are likeliest with any of these counts, best first. What the first reaches.
  double keep_best(std::vector<Sides>& ways, DrawStore& store,
                   const std::vector<PairCounts>& counts, std::size_t many) const {
    std::vector<std::pair<double, std::size_t>> reached;
    for (std::size_t i = 0; i < ways.size(); ++i) {
      reached.push_back({-best_chance(store, ways[i], counts), i});
    }
    std::sort(reached.begin(), reached.end());
    std::vector<Sides> kept;
    for (std::size_t k = 0; k < std::min(many, reached.size()); ++k) {
      kept.push_back(ways[reached[k].second]);
    }
    ways = std::move(kept);
    return reached.empty() ? 0 : -reached.front().first;
  }

  // Counts that cost so much less: by rootstock seed, by scion seed, by both alike.
  std::vector<PairCounts> cheaper_counts() const {
    std::vector<PairCounts> list;
    for (const auto& [below, above] : {std::pair{1, 0}, {0, 1}, {1, 1}}) {
      PairCounts counts = draft_.needed;
      while (cost(one_, counts) > affordable_) {
        counts.seeds.rootstock -= below;
        counts.seeds.scion -= above;
        if (std::min(counts.seeds.rootstock, counts.seeds.scion) < 1) break;
      }
      if (std::min(counts.seeds.rootstock, counts.seeds.scion) > 0) list.push_back(counts);
    }
    return list;
  }

  // The side in `count` waves over `span` days around its day; nothing where no such days are free.
  std::optional<SidePlan> in_waves(const SidePlan& side, int count, int span) const {
    const int oldest = side.parts.front().days_to_graft + (span + 1) / 2;
    SidePlan waves;
    waves.evenly = true;
    for (int wave = 0; wave < count; ++wave) {
      PlannedPart part = side.parts.front();
      part.days_to_graft = oldest - span * wave / (count - 1);
      part.wave = static_cast<std::uint64_t>(wave);
      const bool is_free = std::binary_search(ages_.begin(), ages_.end(), part.days_to_graft);
      if (!is_free) return std::nullopt;
      waves.parts.push_back(part);
    }
    return waves;
  }

  std::vector<Sides> ways() const {
    std::vector<Sides> list;
    const auto add = [&](int count, int span) {
      const auto below = in_waves(one_.rootstock, count, span);
      const auto above = in_waves(one_.scion, count, span);
      if (below) list.push_back({*below, one_.scion});
      if (above) list.push_back({one_.rootstock, *above});
      if (below && above) list.push_back({*below, *above});
    };
    for (const int span : kSpansOfTwo) add(2, span);
    for (const int span : kSpansOfThree) add(3, span);
    return list;
  }

  bool decide(const Sides& sides, DrawStore& few) {
    DrawStore some(kPlanSeed, std::min(kSearchSeasons, basis_.request.seasons));
    PairSeasons look = seasons(few, sides), search = seasons(some, sides);
    const CountCosts costs(sides.rootstock, sides.scion, prices_);
    CountChoice choice(look, search, chance_, costs, most_tried(draft_));
    const double confidence = basis_.request.season.confidence;
    const auto found =
        choice.cheapest(std::min(confidence + luck_in(some), 1.0), draft_.needed.seeds);
    if (!found || costs.of(*found) > affordable_ || !is_likelier(search, some, *found))
      return false;
    DrawStore store(kPlanSeed, basis_.request.seasons);
    PairSeasons all = seasons(store, sides);
    PairCounts counts = *found;
    while (chance_.probability(all.spread(counts.seeds), counts.grafts) < confidence - kReached) {
      const SeedCounts below{counts.seeds.rootstock + 1, counts.seeds.scion};
      const SeedCounts above{counts.seeds.rootstock, counts.seeds.scion + 1};
      counts.seeds = costs.of(below) < costs.of(above) ? below : above;
      if (costs.of(counts) > affordable_) return false;
    }
    draft_.rootstock = sides.rootstock;
    draft_.scion = sides.scion;
    draft_.needed = draft_.listed = counts;
    draft_.needed_spread = all.spread(counts.seeds);
    return true;
  }

  // How much better these seasons are than all.
  double luck_in(DrawStore& store) const {
    return best_chance(store, one_, {draft_.needed}) -
           chance_.probability(draft_.needed_spread, draft_.needed.grafts);
  }

  bool is_likelier(PairSeasons& waves, DrawStore& store, const PairCounts& counts) const {
    const auto with = waves.pairs(counts.seeds);
    const auto without = seasons(store, one_).pairs(counts.seeds);
    double sum = 0, square = 0;
    for (std::size_t i = 0; i < with.size(); ++i) {
      const double more = chance_.tail(std::min<int>(with[i], counts.grafts)) -
                          chance_.tail(std::min<int>(without[i], counts.grafts));
      sum += more;
      square += more * more;
    }
    const auto n = static_cast<double>(with.size());
    return sum > kSure * std::sqrt(square - sum * sum / n);
  }

  const PlanBasis& basis_;
  PairDraft& draft_;
  TakeBelief take_;
  PairChance chance_;
  WorkPrices prices_;
  Sides one_;
  double affordable_;
  std::vector<int> ages_;
};

}  // namespace

bool sow_in_waves(const PlanBasis& basis, PairDraft& draft) {
  const bool may = draft.graft_on && draft.reached && !draft.late && !draft.is_pooled &&
                   is_plain(draft.rootstock) && is_plain(draft.scion);
  return may && Waves(basis, draft).try_all();
}

}  // namespace takehold::client
