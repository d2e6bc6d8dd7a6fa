#include "client/plan/plan_tables.hpp"

#include <algorithm>
#include <tuple>

#include "client/plan/counts.hpp"

namespace takehold::client {
namespace {

std::vector<ProposedSowing> sowings_of(const SidePlan& plan, int seeds, Day graft_on,
                                       const SeedBox& box, int per_cell) {
  const PartCounts counts = plan.spread(seeds);
  std::vector<ProposedSowing> sowings;
  for (std::size_t i = 0; i < plan.parts.size(); ++i) {
    const PlannedPart& part = plan.parts[i];
    if (counts[i] == 0) continue;
    const SeedSource& source = box.at(part.source);
    ProposedSowing sowing{source.lot,     {},
                          source.variety, graft_on - std::chrono::days(part.days_to_graft),
                          counts[i],      cells_for(counts[i], per_cell)};
    if (!part.sowing.empty()) sowing.sowing = part.sowing;
    sowings.push_back(sowing);
  }
  std::stable_sort(sowings.begin(), sowings.end(),
                   [](const auto& a, const auto& b) { return a.sow_on < b.sow_on; });
  return sowings;
}

// Most seeds, the earlier at a tie.
std::optional<Day> main_day(const std::vector<ProposedSowing>& sowings) {
  const auto main =
      std::max_element(sowings.begin(), sowings.end(),
                       [](const auto& a, const auto& b) { return a.seeds < b.seeds; });
  return main == sowings.end() ? std::nullopt : std::optional(main->sow_on);
}

// Plants that all the seed of a variety without a lot will bring.
double plants_of(std::size_t source, const SeedBox& box, const std::vector<PairDraft>& pairs,
                 const std::vector<RootDraft>& roots) {
  double plants = 0;
  for (const PairDraft& draft : pairs) {
    const bool uses = draft.graft_on && (draft.rootstock.parts.back().source == source ||
                                         draft.scion.parts.back().source == source);
    if (uses) plants += draft.useful;
  }
  for (const RootDraft& draft : roots) {
    if (draft.source == source) plants += box.at(source).known.viability.mean() * draft.needed;
  }
  return plants;
}

std::string purpose_of(const std::string& id, const std::string& scion,
                       const std::string& rootstock) {
  return id.empty() ? scion + "/" + rootstock : id;
}

void add_line(std::vector<SowingLine>& lines, const ProposedSowing& sowing, Side side,
              const std::string& purpose) {
  for (SowingLine& line : lines) {
    const bool same = line.lot == sowing.lot && line.variety == sowing.variety &&
                      line.sow_on == sowing.sow_on && line.side == side;
    if (!same) continue;
    line.seeds += sowing.seeds;
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
  out.made = made_of(request, pairing);
  out.finished = draft.finished;
  out.probability = draft.chance.probability;
  out.standard_error = draft.chance.standard_error;
  if (!draft.graft_on) return out;
  const int per_cell = request.season.seeds_per_cell;
  out.graft_on = draft.graft_on;
  out.rootstock_sowings =
      sowings_of(draft.rootstock, draft.listed.seeds.rootstock, *draft.graft_on, box, per_cell);
  out.scion_sowings =
      sowings_of(draft.scion, draft.listed.seeds.scion, *draft.graft_on, box, per_cell);
  const auto below = main_day(out.rootstock_sowings), above = main_day(out.scion_sowings);
  if (below && above) out.offset_days = static_cast<int>((*above - *below).count());
  out.grafts = draft.listed.grafts;
  out.limited_by = draft.limited_by;
  out.cost = draft.cost;
  return out;
}

SharedSowing table_of(const SeedBox& box, const PoolMembers& members,
                      const std::vector<PairDraft>& drafts) {
  SharedSowing shared;
  const SeedSource& source = box.at(drafts[members.front()].rootstock.parts.front().source);
  shared.lot = source.lot;
  shared.variety = source.variety;
  for (const std::size_t i : members) {
    const PairDraft& draft = drafts[i];
    shared.seeds += draft.listed.seeds.rootstock;
    shared.seeds_apart += draft.alone.seeds.rootstock;
    shared.pairings.push_back(
        purpose_of(draft.pairing->id, draft.pairing->scion, draft.pairing->rootstock));
  }
  return shared;
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
    out.probability = beta_binomial_tail(out.want, out.seeds, box.at(draft.source).known.viability);
  }
  return out;
}

void add_sowing_list(SeasonPlan& plan, int seeds_per_cell) {
  for (const PlannedPairing& pairing : plan.pairings) {
    const std::string purpose = purpose_of(pairing.id, pairing.scion, pairing.rootstock);
    for (const auto& sowing : pairing.rootstock_sowings) {
      if (!sowing.sowing) add_line(plan.sowings, sowing, Side::rootstock, purpose);
    }
    for (const auto& sowing : pairing.scion_sowings) {
      if (!sowing.sowing) add_line(plan.sowings, sowing, Side::scion, purpose);
    }
  }
  for (const PlannedOwnRoot& root : plan.own_root) {
    if (!root.sow_on || root.seeds == 0) continue;
    add_line(plan.sowings, {root.lot, {}, root.variety, *root.sow_on, root.seeds, root.cells},
             Side::own_root, "own root");
  }
  for (SowingLine& line : plan.sowings) line.cells = cells_for(line.seeds, seeds_per_cell);
  std::stable_sort(plan.sowings.begin(), plan.sowings.end(), [](const auto& a, const auto& b) {
    return std::tie(a.sow_on, a.lot) < std::tie(b.sow_on, b.lot);
  });
}

void add_seed_balance(SeasonPlan& plan, const SeedBox& box, const std::vector<PairDraft>& pairs,
                      const std::vector<RootDraft>& roots) {
  for (std::size_t i = 0; i < box.size(); ++i) {
    const SeedSource& source = box.at(i);
    if (source.needed == 0 && !source.lot) continue;
    const int missing = source.lot ? std::max(0, source.needed - source.on_hand) : 0;
    if (source.lot) plan.seeds.push_back({*source.lot, source.on_hand, source.needed, missing});
    if (source.lot || source.needed == 0) continue;
    plan.buy.push_back(
        {source.variety, {}, source.needed, plants_of(i, box, pairs, roots), {}, {}});
  }
}

}  // namespace takehold::client
