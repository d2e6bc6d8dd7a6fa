// Which sets of grafts can be made at once is a matroid (scions joined to common rootstocks, each
// member's number bounded), so the greatest sum of weights is reached by serving one graft after
// the other by falling worth, and only the order of worths counts. The k-th graft of a member that
// wants m gets the rank of (weight, k / m) as its cost, and a rank outweighs any sum of mismatch.
#include "client/match/cohort.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>
#include <map>

#include "client/match/stem_flow.hpp"
#include "sensors/quantity/problem.hpp"

namespace takehold::client {
namespace {

/// What a graft is worth: the smaller is served first.
using Turn = std::pair<double, double>;

int grafts_of(const CohortMember& member) {
  const auto all = static_cast<int>(member.scions.size());
  return std::clamp(member.most.value_or(all), 0, all);
}

Turn turn_of(const CohortMember& member, int graft) {
  const int wanted = std::max(1, member.most.value_or(static_cast<int>(member.scions.size())));
  return {-member.weight, static_cast<double>(graft) / wanted};
}

FlowCosts costs_of(std::span<const Micrometres> rootstocks, std::span<const CohortMember> members,
                   std::span<const FlowScion> scions) {
  std::map<Turn, std::int64_t> ranks;
  for (const CohortMember& member : members) {
    for (int graft = 1; graft <= grafts_of(member); ++graft) ranks[turn_of(member, graft)] = 0;
  }
  std::int64_t rank = 0;
  for (auto& entry : ranks) entry.second = rank++;
  const auto most = static_cast<std::int64_t>(std::min(rootstocks.size(), scions.size()));
  FlowCosts costs;
  costs.unit = most + 1;
  // Below 2000 ranks of 2000 * 1 m * 2001: 8e15, and 64 bits hold 9e18.
  const std::int64_t step = (most * StemFlow::widest(rootstocks, scions) + 1) * costs.unit;
  for (const CohortMember& member : members) {
    auto& entries = costs.entries.emplace_back();
    for (int graft = 1; graft <= grafts_of(member); ++graft) {
      entries.push_back(step * ranks[turn_of(member, graft)]);
    }
  }
  return costs;
}

void check_stems(std::span<const Micrometres> stems, const char* side) {
  if (stems.size() > kMostInCohort) {
    throw sensors::Refused({"too-many-stems", fmt::format("{} {} at once", stems.size(), side),
                            fmt::format("at most {} can be shared out", kMostInCohort), "", ""});
  }
  for (const Micrometres um : stems) check_diameter(um, side);
}

std::vector<FlowScion> pooled(std::span<const CohortMember> members) {
  std::vector<FlowScion> scions;
  std::vector<Micrometres> stems;
  for (std::size_t m = 0; m < members.size(); ++m) {
    for (const Micrometres um : members[m].scions) {
      scions.push_back({um, m});
      stems.push_back(um);
    }
  }
  check_stems(stems, "scions");
  return scions;
}

}  // namespace

CohortMatching match_cohort(std::span<const Micrometres> rootstocks,
                            std::span<const CohortMember> members, const Tolerance& tolerance) {
  check_stems(rootstocks, "rootstocks");
  const std::vector<FlowScion> scions = pooled(members);
  StemFlow flow(rootstocks, scions, costs_of(rootstocks, members, scions), tolerance);
  flow.run();
  CohortMatching matching;
  matching.counts.resize(members.size());
  matching.scions_left_over.resize(members.size());
  std::vector<bool> used(rootstocks.size());
  std::size_t place = 0;
  for (std::size_t s = 0; s < scions.size(); ++s, ++place) {
    const std::size_t m = scions[s].member;
    if (s > 0 && scions[s - 1].member != m) place = 0;
    const std::size_t root = flow.rootstock_of()[s];
    if (root == kNoStem) {
      matching.scions_left_over[m].push_back(place);
      continue;
    }
    used[root] = true;
    ++matching.counts[m];
    const Micrometres mismatch = std::abs(rootstocks[root] - scions[s].um);
    matching.pairs.push_back({root, m, place, mismatch});
    matching.mismatch_total += mismatch;
  }
  for (std::size_t r = 0; r < used.size(); ++r) {
    if (!used[r]) matching.rootstocks_left_over.push_back(r);
  }
  std::sort(matching.pairs.begin(), matching.pairs.end(),
            [](const CohortPair& a, const CohortPair& b) { return a.rootstock < b.rootstock; });
  return matching;
}

}  // namespace takehold::client
