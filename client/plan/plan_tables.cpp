#include "client/plan/plan_tables.hpp"

#include <algorithm>
#include <tuple>

#include "client/plan/counts.hpp"

namespace takehold::client {
namespace {

CountOutlook summary(const std::vector<double>& spread) {
  CountOutlook outlook;
  double below = 0;
  bool low_found = false, high_found = false;
  for (std::size_t k = 0; k < spread.size(); ++k) {
    outlook.mean += static_cast<double>(k) * spread[k];
    below += spread[k];
    if (!low_found && below >= 0.1 - 1e-9) outlook.p10 = static_cast<int>(k), low_found = true;
    if (!high_found && below >= 0.9 - 1e-9) outlook.p90 = static_cast<int>(k), high_found = true;
  }
  return outlook;
}

ProposedSowing sowing_of(const SeedSource& source, Day sow_on, int seeds, int per_cell) {
  return {source.lot, source.variety, sow_on, seeds, cells_for(seeds, per_cell)};
}

// Plants that a lot's missing seed costs: expected finished ones, and own-root ones standing.
double plants_gained(std::size_t source, const SeedBox& box, const std::vector<PairDraft>& pairs,
                     const std::vector<RootDraft>& roots) {
  double gained = 0;
  for (const PairDraft& draft : pairs) {
    const bool uses = draft.rootstock_source == source || draft.scion_source == source;
    if (!draft.days || !uses) continue;
    const PairOutlook outlook = draft.model.outlook();
    const bool bought = !box.at(source).lot.has_value();
    const double now = bought ? 0 : summary(outlook.finished(draft.listed)).mean;
    gained += summary(outlook.finished(draft.needed)).mean - now;
  }
  for (const RootDraft& draft : roots) {
    if (draft.source != source) continue;
    const int now = box.at(source).lot ? draft.listed : 0;
    gained += box.at(source).viability.mean() * (draft.needed - now);
  }
  return gained;
}

void add_line(std::vector<SowingLine>& lines, const ProposedSowing& sowing, Side side,
              const std::string& purpose) {
  for (SowingLine& line : lines) {
    const bool same = line.lot == sowing.lot && line.variety == sowing.variety &&
                      line.sow_on == sowing.sow_on && line.side == side;
    if (!same) continue;
    line.seeds += sowing.seeds;
    line.cells += sowing.cells;
    line.purposes.push_back(purpose);
    return;
  }
  lines.push_back(
      {sowing.lot, sowing.variety, sowing.sow_on, sowing.seeds, sowing.cells, {purpose}, side});
}

}  // namespace

PlannedPairing table_of(const PlanRequest& request, const SeedBox& box, const PairDraft& draft) {
  const Pairing& pairing = *draft.pairing;
  PlannedPairing out;
  out.id = pairing.id;
  out.scion = pairing.scion;
  out.rootstock = pairing.rootstock;
  out.want = pairing.want;
  if (!draft.days) return out;
  const int per_cell = request.season.seeds_per_cell;
  const PairCounts& counts = draft.listed;
  out.graft_on = draft.days->graft_on;
  if (counts.rootstock_seeds > 0) {
    out.rootstock_sowings = {sowing_of(box.at(draft.rootstock_source), draft.days->rootstock_on(),
                                       counts.rootstock_seeds, per_cell)};
  }
  if (counts.scion_seeds > 0) {
    out.scion_sowings = {sowing_of(box.at(draft.scion_source), draft.days->scion_on(),
                                   counts.scion_seeds, per_cell)};
  }
  out.offset_days = draft.days->ages.rootstock_days - draft.days->ages.scion_days;
  out.grafts = counts.grafts;
  const PairOutlook outlook = draft.model.outlook();
  out.finished = summary(outlook.finished(counts));
  out.probability = draft.days->late ? 0 : outlook.probability(counts, pairing.want);
  const bool seed_binds = counts.rootstock_seeds < draft.needed.rootstock_seeds ||
                          counts.scion_seeds < draft.needed.scion_seeds;
  out.limited_by = seed_binds ? LimitedBy::seed : limiting_stage(draft);
  out.cost = draft.prices.cost(counts);
  return out;
}

PlannedOwnRoot table_of(const PlanRequest& request, const SeedBox& box, const RootDraft& draft) {
  PlannedOwnRoot out;
  out.variety = draft.wish->variety;
  out.want = draft.wish->want;
  out.lot = box.at(draft.source).lot;
  out.sow_on = draft.sow_on;
  out.seeds = draft.listed;
  out.cells = cells_for(draft.listed, request.season.seeds_per_cell);
  if (draft.sow_on) {
    out.probability = beta_binomial_tail(out.want, out.seeds, box.at(draft.source).viability);
  }
  return out;
}

void add_sowing_list(SeasonPlan& plan) {
  for (const PlannedPairing& pairing : plan.pairings) {
    const std::string purpose =
        pairing.id.empty() ? pairing.scion + "/" + pairing.rootstock : pairing.id;
    for (const auto& sowing : pairing.rootstock_sowings) {
      add_line(plan.sowings, sowing, Side::rootstock, purpose);
    }
    for (const auto& sowing : pairing.scion_sowings) {
      add_line(plan.sowings, sowing, Side::scion, purpose);
    }
  }
  for (const PlannedOwnRoot& root : plan.own_root) {
    if (!root.sow_on || root.seeds == 0) continue;
    add_line(plan.sowings, {root.lot, root.variety, *root.sow_on, root.seeds, root.cells},
             Side::own_root, "own root");
  }
  std::stable_sort(plan.sowings.begin(), plan.sowings.end(), [](const auto& a, const auto& b) {
    return std::tie(a.sow_on, a.lot) < std::tie(b.sow_on, b.lot);
  });
}

void add_seed_balance(SeasonPlan& plan, const SeedBox& box, const std::vector<PairDraft>& pairs,
                      const std::vector<RootDraft>& roots) {
  for (std::size_t i = 0; i < box.size(); ++i) {
    const SeedSource& source = box.at(i);
    if (source.needed == 0 && !source.lot) continue;
    const int missing = source.lot ? std::max(0, source.needed - source.on_hand) : source.needed;
    if (source.lot) plan.seeds.push_back({*source.lot, source.on_hand, source.needed, missing});
    if (missing == 0) continue;
    SeedPurchase purchase{source.variety, missing, plants_gained(i, box, pairs, roots), {}};
    if (source.price_is_known) {  // whole packets, as they are sold
      const int packet = source.record->packet_seeds.value_or(source.record->seeds);
      purchase.price = cells_for(missing, packet) * *source.record->price;
    }
    plan.buy.push_back(purchase);
  }
}

}  // namespace takehold::client
