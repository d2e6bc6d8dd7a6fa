#include "client/match/stem_flow.hpp"

#include <algorithm>
#include <cstdlib>
#include <limits>
#include <numeric>

namespace takehold::client {

namespace {
constexpr std::int64_t kFar = std::numeric_limits<std::int64_t>::max() / 4;
}  // namespace

StemFlow::StemFlow(std::span<const Micrometres> rootstocks, std::vector<FlowScion> scions,
                   FlowCosts costs, const Tolerance& tolerance)
    : roots_(rootstocks.begin(), rootstocks.end()),
      scions_(std::move(scions)),
      costs_(std::move(costs)),
      root_of_(scions_.size(), kNoStem),
      scion_of_(roots_.size(), kNoStem),
      used_(costs_.entries.size(), 0),
      potential_(scions_.size() + roots_.size() + used_.size(), 0) {
  by_thickness_.resize(roots_.size());
  std::iota(by_thickness_.begin(), by_thickness_.end(), std::size_t{0});
  std::stable_sort(by_thickness_.begin(), by_thickness_.end(),
                   [&](std::size_t a, std::size_t b) { return roots_[a] < roots_[b]; });
  for (const FlowScion& scion : scions_) fitting_.push_back(roots_for(scion.um, tolerance));
}

Micrometres StemFlow::widest(std::span<const Micrometres> rootstocks,
                             std::span<const FlowScion> scions) {
  if (rootstocks.empty() || scions.empty()) return 0;
  const auto [thin_root, thick_root] = std::minmax_element(rootstocks.begin(), rootstocks.end());
  const auto by_um = [](const FlowScion& a, const FlowScion& b) { return a.um < b.um; };
  const auto [thin, thick] = std::minmax_element(scions.begin(), scions.end(), by_um);
  return std::max({*thick_root - thin->um, thick->um - *thin_root, Micrometres{0}});
}

// The rootstocks that fit a scion lie together when sorted, the equal one among them.
StemFlow::Fitting StemFlow::roots_for(Micrometres scion, const Tolerance& tolerance) const {
  const auto fits = [&](std::size_t r) { return tolerance.allows(roots_[r], scion); };
  const auto begin = by_thickness_.begin();
  const auto middle = std::partition_point(begin, by_thickness_.end(),
                                           [&](std::size_t r) { return roots_[r] < scion; });
  const auto first = std::partition_point(begin, middle, [&](std::size_t r) { return !fits(r); });
  const auto last = std::partition_point(middle, by_thickness_.end(), fits);
  return {static_cast<std::size_t>(first - begin), static_cast<std::size_t>(last - begin)};
}

StemFlow::Cost StemFlow::pair_cost(std::size_t scion, std::size_t root) const {
  const Micrometres above = scions_[scion].um, below = roots_[root];
  return std::abs(above - below) * costs_.unit + (clip_size(above) == clip_size(below) ? 0 : 1);
}

void StemFlow::reach(std::size_t from, std::size_t to, Cost cost) {
  const Cost reduced = cost - potential_[to];
  if (reduced >= distance_[to]) return;
  distance_[to] = reduced;
  came_from_[to] = from;
  open_.push({reduced, to});
}

void StemFlow::leave_member(std::size_t member, Cost cost) {
  for (std::size_t s = 0; s < scions_.size(); ++s) {
    if (scions_[s].member == member && root_of_[s] == kNoStem) reach(member_node(member), s, cost);
  }
}

void StemFlow::leave_scion(std::size_t scion, Cost cost) {
  for (std::size_t i = fitting_[scion].first; i < fitting_[scion].last; ++i) {
    const std::size_t root = by_thickness_[i];
    if (root_of_[scion] == root) continue;
    reach(scion, root_node(root), cost + pair_cost(scion, root));
  }
  // One that gives its rootstock up makes room for another scion of its member.
  if (root_of_[scion] != kNoStem) reach(scion, member_node(scions_[scion].member), cost);
}

void StemFlow::begin_ways() {
  distance_.assign(potential_.size(), kFar);
  came_from_.assign(potential_.size(), kNoStem);
  done_.assign(potential_.size(), false);
  open_ = {};
  for (std::size_t m = 0; m < used_.size(); ++m) {
    if (used_[m] < costs_.entries[m].size()) {
      reach(kNoStem, member_node(m), costs_.entries[m][used_[m]]);
    }
  }
}

bool StemFlow::augment() {
  begin_ways();
  while (!open_.empty()) {
    const auto [reduced, node] = open_.top();
    open_.pop();
    if (done_[node]) continue;
    done_[node] = true;
    const Cost cost = reduced + potential_[node];
    if (node >= member_node(0)) {
      leave_member(node - member_node(0), cost);
    } else if (node < scions_.size()) {
      leave_scion(node, cost);
    } else if (const std::size_t root = node - root_node(0); scion_of_[root] != kNoStem) {
      reach(node, scion_of_[root], cost - pair_cost(scion_of_[root], root));
    } else {
      settle(reduced);
      turn_around(node);
      return true;
    }
  }
  return false;
}

void StemFlow::settle(Cost reached) {
  for (std::size_t node = 0; node < potential_.size(); ++node) {
    potential_[node] += std::min(distance_[node], reached);
  }
}

// Back from the free rootstock to the source: each rootstock on the way goes to the scion before
// it, and a scion before a member is left without.
void StemFlow::turn_around(std::size_t node) {
  for (std::size_t before; node != kNoStem; node = before) {
    before = came_from_[node];
    if (node >= member_node(0)) {
      const std::size_t member = node - member_node(0);
      if (before == kNoStem) {
        ++used_[member];
      } else {
        root_of_[before] = kNoStem;
      }
    } else if (node >= root_node(0)) {
      scion_of_[node - root_node(0)] = before;
      root_of_[before] = node - root_node(0);
    }
  }
}

}  // namespace takehold::client
