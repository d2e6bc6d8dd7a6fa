#include "client/plan/pairing_draft.hpp"

#include <cmath>
#include <functional>

#include "client/plan/work_days.hpp"

namespace takehold::client {
namespace {

constexpr double kCellPrice = 0.05;               // where the sheet says nothing (assumed)
constexpr double kGraftPrice = 0.20;              // likewise
constexpr auto kEarlier = std::chrono::days(21);  // how far a graft day moves back to a work day
constexpr auto kLater = std::chrono::days(200);   // and ahead, when it is too late for the best
constexpr Chance kSure{1e9, 1e-3};
constexpr double kNotable = 0.001;  // a gain in probability below this limits nothing

std::chrono::days whole_days(std::chrono::minutes length) {
  return std::chrono::ceil<std::chrono::days>(length);
}

std::optional<GraftAges> ages_for(const PlanRequest& request, const Course& course,
                                  const LotSpeed& rootstock, const LotSpeed& scion, Day graft_on) {
  return choose_ages(course, rootstock, scion, [&](int days) {
    const Day sow_on = graft_on - std::chrono::days(days);
    return sow_on >= request.made_on && is_work_day(request.season, sow_on);
  });
}

// The oldest source that has as many seeds as `wanted` says it takes, else the fullest.
std::size_t choose_source(const std::vector<std::size_t>& sources, const SeedBox& box,
                          const std::function<int(std::size_t)>& wanted) {
  std::size_t fullest = sources.front();
  for (const std::size_t source : sources) {
    if (sources.size() == 1 || wanted(source) <= box.left(source)) return source;
    if (box.left(source) > box.left(fullest)) fullest = source;
  }
  return fullest;
}

// The sides' chances once both sources are known.
void set_model(PairDraft& draft, const Course& course, const SeedBox& box) {
  const GraftAges& ages = draft.days->ages;
  const auto side = [&](const std::string& variety, int days, const Seedling& middle,
                        std::size_t source) {
    return side_outlook(course, box.variety(variety).species, days, middle,
                        box.at(source).viability);
  };
  const Pairing& pairing = *draft.pairing;
  draft.model.rootstock =
      side(pairing.rootstock, ages.rootstock_days, ages.rootstock, draft.rootstock_source);
  draft.model.scion = side(pairing.scion, ages.scion_days, ages.scion, draft.scion_source);
  draft.model.middle_ratio = ages.rootstock.diameter / ages.scion.diameter;
  draft.prices.rootstock_seed = box.at(draft.rootstock_source).price_each;
  draft.prices.scion_seed = box.at(draft.scion_source).price_each;
}

CheapestCounts counts_of(const PairDraft& draft, double confidence) {
  return cheapest_counts(draft.model.outlook(), draft.model.take, draft.pairing->want, confidence,
                         draft.prices);
}

void choose_sources(PairDraft& draft, const Course& course, double confidence, SeedBox& box) {
  const Pairing& pairing = *draft.pairing;
  const auto scions = box.sources_of(pairing.scion, pairing.scion_lot);
  const auto rootstocks = box.sources_of(pairing.rootstock, pairing.rootstock_lot);
  draft.rootstock_source = rootstocks.front();
  draft.scion_source = choose_source(scions, box, [&](std::size_t source) {
    draft.scion_source = source;
    set_model(draft, course, box);
    return counts_of(draft, confidence).counts.scion_seeds;
  });
  draft.rootstock_source = choose_source(rootstocks, box, [&](std::size_t source) {
    draft.rootstock_source = source;
    set_model(draft, course, box);
    return counts_of(draft, confidence).counts.rootstock_seeds;
  });
}

}  // namespace

std::optional<PairDays> choose_days(const PlanRequest& request, const Course& course,
                                    const LotSpeed& rootstock, const LotSpeed& scion,
                                    Day ready_on) {
  const auto length = whole_days(request.regime_length);
  const Day latest = ready_on - length;
  const auto at = [&](Day graft_on) -> std::optional<PairDays> {
    const auto ages = ages_for(request, course, rootstock, scion, graft_on);
    if (!ages) return std::nullopt;
    const bool late = graft_on + length > ready_on + std::chrono::days(request.season.window_days);
    return PairDays{graft_on, *ages, late};
  };
  if (const auto best = work_day_before(request.season, latest, kEarlier)) {
    if (const auto days = at(*best)) return days;
  }
  for (Day day = std::max(latest, request.made_on);
       day < std::max(latest, request.made_on) + kLater; day += std::chrono::days(1)) {
    if (!is_work_day(request.season, day)) continue;
    if (const auto days = at(day)) return days;
  }
  return std::nullopt;
}

PairDraft draft_pairing(const PlanRequest& request, const Course& course, const Pairing& pairing,
                        const TakeModel& takes, SeedBox& box) {
  PairDraft draft;
  draft.pairing = &pairing;
  draft.days = choose_days(request, course, average_speed(box.variety(pairing.rootstock).species),
                           average_speed(box.variety(pairing.scion).species),
                           pairing.ready_on.value_or(request.season.ready_on));
  if (!draft.days) return draft;
  const Season& season = request.season;
  const auto record = request.takes.find(pairing.names());
  draft.model.take =
      matched_chance(takes.belief(record == request.takes.end() ? Tally{} : record->second));
  draft.model.tolerance_pct = season.tolerance_pct;
  draft.prices.cell = season.cell_price.value_or(kCellPrice);
  draft.prices.graft = season.graft_price.value_or(kGraftPrice);
  draft.prices.seeds_per_cell = season.seeds_per_cell;
  choose_sources(draft, course, season.confidence, box);
  set_model(draft, course, box);
  const CheapestCounts found = counts_of(draft, season.confidence);
  draft.needed = draft.listed = found.counts;
  draft.reached = found.reached;
  box.need(draft.rootstock_source, found.counts.rootstock_seeds);
  box.need(draft.scion_source, found.counts.scion_seeds);
  return draft;
}

std::optional<LimitedBy> limiting_stage(const PairDraft& draft) {
  const auto gain = [&](PairModel model) {
    return model.outlook().probability(draft.listed, draft.pairing->want);
  };
  PairModel all_up = draft.model;
  all_up.rootstock.viability = all_up.scion.viability = kSure;
  PairModel all_graftable = draft.model;
  all_graftable.rootstock.graftable = all_graftable.scion.graftable = 1;
  PairModel all_matched = draft.model;
  all_matched.tolerance_pct = INFINITY;
  PairModel all_take = draft.model;
  all_take.take = kSure;
  std::optional<LimitedBy> limit;
  double best = gain(draft.model) + kNotable;
  const std::pair<LimitedBy, const PairModel*> stages[] = {{LimitedBy::emergence, &all_up},
                                                           {LimitedBy::spread, &all_graftable},
                                                           {LimitedBy::mismatch, &all_matched},
                                                           {LimitedBy::take, &all_take}};
  for (const auto& [stage, model] : stages) {
    const double probability = gain(*model);
    if (probability <= best) continue;
    best = probability;
    limit = stage;
  }
  return limit;
}

}  // namespace takehold::client
