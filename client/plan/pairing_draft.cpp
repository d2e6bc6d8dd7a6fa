#include "client/plan/pairing_draft.hpp"

#include <algorithm>
#include <cmath>

#include "client/plan/age_search.hpp"
#include "client/plan/count_choice.hpp"
#include "client/plan/counts.hpp"
#include "client/plan/graft_day.hpp"
#include "client/plan/limiting.hpp"

namespace takehold::client {
namespace {

constexpr int kCoarseSeasons = 256;  // where the search looks around; all seasons decide
constexpr int kFurthest = 60;        // seeds from there, to either side, that are matched at once
constexpr int kFirstAgeSeasons = 1024;   // for counts to begin with; all decide, at those found
constexpr double kBelowBest = 0.01;      // given away when the confidence is out of reach
constexpr double kEnoughGrafts = 0.002;  // what fewer grafts may cost where seed is short

bool is_sown(const PlanRequest& request, const Pairing& pairing, Side side) {
  return std::any_of(request.sown.begin(), request.sown.end(),
                     [&](const SownSeed& sowing) { return serves(sowing, pairing, side); });
}

class Drafting {
 public:
  Drafting(const PlanBasis& basis, const SeedBox& box, const PairSources& sources, PairDraft& draft)
      : basis_(basis),
        box_(box),
        sources_(sources),
        draft_(draft),
        take_(take_of(basis, *draft.pairing)),
        chance_(chance_of(basis, take_, *draft.pairing)),
        coarse_(kPlanSeed, std::min(kCoarseSeasons, basis.request.seasons)),
        store_(kPlanSeed, basis.request.seasons) {}

  void draft() {
    if (chance_.tail(0) >= basis_.request.season.confidence - kReached) {
      draft_.complete = true;
      return;
    }
    if (!choose_day()) return;
    set_side(draft_.rootstock, Side::rootstock, sources_.rootstock);
    set_side(draft_.scion, Side::scion, sources_.scion);
    const int fresh = 2 * draft_.pairing->want + 8;
    if (!choose_ages({fresh, fresh}, std::min(kFirstAgeSeasons, store_.seasons()))) {
      draft_.graft_on.reset();
      return;
    }
    count();
    const auto before = days();
    if (choose_ages(draft_.needed.seeds, store_.seasons()) && days() != before) count();
    draft_.listed = draft_.needed;
  }

 private:
  bool choose_day() {
    const Pairing& pairing = *draft_.pairing;
    std::vector<LotSpeed> to_sow;
    for (const auto& [side, limits] : {std::pair{Side::rootstock, &sources_.rootstock},
                                       std::pair{Side::scion, &sources_.scion}}) {
      if (is_sown(basis_.request, pairing, side)) continue;
      to_sow.push_back(box_.belief(limits->front().source).middle_speed());
    }
    const auto day = choose_graft_day(basis_.request, basis_.course, to_sow,
                                      pairing.ready_on.value_or(basis_.request.season.ready_on));
    if (!day) return false;
    draft_.graft_on = day->on;
    draft_.late = day->late;
    draft_.shifts = day->shifts;
    ages_ = ages_allowed(basis_.request, basis_.course, day->on);
    return true;
  }

  void set_side(SidePlan& plan, Side side, const std::vector<SourceLimit>& limits) const {
    plan.parts =
        sown_parts(basis_.request, box_, basis_.course, *draft_.pairing, side, *draft_.graft_on);
    const auto main = std::max_element(
        plan.parts.begin(), plan.parts.end(),
        [](const PlannedPart& a, const PlannedPart& b) { return a.sown < b.sown; });
    const int near = main == plan.parts.end() ? 0 : main->days_to_graft;
    for (const SourceLimit& limit : limits) {
      PlannedPart part;
      part.source = limit.source;
      part.lot = box_.belief(limit.source);
      part.course = &basis_.course;
      part.most = ages_.empty() ? 0 : limit.most;
      part.price_each = box_.at(limit.source).price_each;
      if (near > 0 && !ages_.empty()) part.days_to_graft = nearest_age(near);
      plan.parts.push_back(part);
    }
  }

  int nearest_age(int days) const {
    return *std::min_element(ages_.begin(), ages_.end(),
                             [&](int a, int b) { return std::abs(a - days) < std::abs(b - days); });
  }

  AgeSide age_side(const SidePlan& plan, int seeds) const {
    if (plan.sown() > 0) return {plan, 0, {}};
    return {plan, std::max(seeds, 1), ages_};
  }

  bool choose_ages(SeedCounts seeds, int seasons) {
    const auto ages = search_ages(age_side(draft_.rootstock, seeds.rootstock),
                                  age_side(draft_.scion, seeds.scion), draft_.shifts,
                                  basis_.counter, store_, seasons);
    if (!ages) return false;
    const auto set = [](SidePlan& plan, std::optional<int> days_to_graft) {
      if (!days_to_graft) return;
      for (PlannedPart& part : plan.parts) part.days_to_graft = *days_to_graft;
    };
    set(draft_.rootstock, ages->rootstock_days);
    set(draft_.scion, ages->scion_days);
    return true;
  }

  std::pair<int, int> days() const {
    return {draft_.rootstock.parts.back().days_to_graft, draft_.scion.parts.back().days_to_graft};
  }

  PairSeasons seasons_of(DrawStore& store) const {
    return {draft_.rootstock, draft_.scion, draft_.shifts, basis_.counter, store};
  }

  void count() {
    const CountCosts costs(draft_.rootstock, draft_.scion, prices_of(basis_.request.season));
    const SeedCounts limits = most_tried(draft_);
    PairSeasons few = seasons_of(coarse_), all = seasons_of(store_);
    const int likely = 4 * draft_.pairing->want + 22;
    if (likely <= CountWindow::kWidest) {
      few.match_within({{}, {std::min(likely, limits.rootstock), std::min(likely, limits.scion)}});
    }
    CountChoice choice(few, all, chance_, costs, limits);
    const auto before =
        draft_.needed == PairCounts{} ? std::nullopt : std::optional(draft_.needed.seeds);
    const auto found = choice.cheapest(confidence(), before);
    keep(found ? *found : choice.nearly_best(kBelowBest), all, found.has_value());
  }

  double confidence() const { return basis_.request.season.confidence; }

  void keep(const PairCounts& counts, PairSeasons& all, bool reached) {
    draft_.needed = counts;
    draft_.reached = reached;
    draft_.needed_spread = all.spread(counts.seeds);
  }

  const PlanBasis& basis_;
  const SeedBox& box_;
  const PairSources& sources_;
  PairDraft& draft_;
  TakeBelief take_;
  PairChance chance_;
  DrawStore coarse_;  // few seasons, to look around
  DrawStore store_;
  std::vector<int> ages_{};
};

}  // namespace

SeedCounts most_tried(const PairDraft& draft) {
  const int most = std::min(100 + 20 * draft.pairing->want, StemKey::kMostSeeds);
  return {std::min(most, draft.rootstock.most()), std::min(most, draft.scion.most())};
}

int most_grafts(const Pairing& pairing) {
  return 60 + 6 * pairing.want;
}

GraftsMade made_of(const PlanRequest& request, const Pairing& pairing) {
  const auto made = request.made.find(pairing.id);
  return made == request.made.end() ? GraftsMade{} : made->second;
}

PairChance chance_of(const PlanBasis& basis, const TakeBelief& take, const Pairing& pairing) {
  return {take, pairing.want, most_grafts(pairing), made_of(basis.request, pairing)};
}

TakeBelief take_of(const PlanBasis& basis, const Pairing& pairing) {
  const auto record = basis.request.takes.find(pairing.names());
  return basis.takes.belief(record == basis.request.takes.end() ? Tally{} : record->second);
}

WorkPrices prices_of(const Season& season) {
  return {season.cell_price.value_or(kCellPrice), season.graft_price.value_or(kGraftPrice),
          season.seeds_per_cell};
}

PairDraft draft_pairing(const PlanBasis& basis, const SeedBox& box, const Pairing& pairing,
                        const PairSources& sources) {
  PairDraft draft;
  draft.pairing = &pairing;
  Drafting(basis, box, sources, draft).draft();
  return draft;
}

void judge_listed(const PlanBasis& basis, PairDraft& draft) {
  const TakeBelief take = take_of(basis, *draft.pairing);
  const PairChance chance = chance_of(basis, take, *draft.pairing);
  if (!draft.graft_on) {
    draft.chance = chance.sampled({1.0}, 0, basis.request.seasons);
    draft.finished = chance.finished({1.0}, 0);
    return;
  }
  PairSpread spread = draft.needed_spread;
  if (draft.listed_spread) {
    spread = *draft.listed_spread;
  } else if (draft.listed.seeds != draft.needed.seeds) {
    DrawStore store(kPlanSeed, basis.request.seasons);
    spread = PairSeasons(draft.rootstock, draft.scion, draft.shifts, basis.counter, store)
                 .spread(draft.listed.seeds);
    const double best = chance.probability(spread, chance.most_grafts());
    draft.listed.grafts = chance.fewest_grafts(spread, best - kEnoughGrafts).value_or(0);
  }
  const int grafts = draft.listed.grafts;
  draft.chance = draft.late ? chance.sampled({1.0}, 0, basis.request.seasons)
                            : chance.sampled(spread, grafts, basis.request.seasons);
  draft.finished = chance.finished(spread, grafts);
  draft.useful = chance.useful(spread, grafts);
  draft.useful_needed = chance.useful(draft.needed_spread, draft.needed.grafts);
  draft.limited_by = limiting_stage(basis, draft);
  const CountCosts costs(draft.rootstock, draft.scion, prices_of(basis.request.season));
  draft.cost = costs.of(draft.listed);
}

}  // namespace takehold::client
