// The cheapest way to join scions of several pairings to common rootstocks. Only for this folder.
#pragma once

#include <cstdint>
#include <functional>
#include <queue>
#include <span>
#include <utility>
#include <vector>

#include "client/match/matching.hpp"

namespace takehold::client {

/// A scion of the pool and whose it is.
struct FlowScion {
  Micrometres um;
  std::size_t member;
};

/// Costs are whole numbers: a pair costs its mismatch times `unit`, and one more where its stems
/// want two clips; a member's k-th pair costs entries[member][k] besides, never less than the one
/// before, and it makes no more pairs than it has entries.
struct FlowCosts {
  std::int64_t unit = 1;
  std::vector<std::vector<std::int64_t>> entries{};
};

inline constexpr std::size_t kNoStem = static_cast<std::size_t>(-1);

/// As many pairs as can be made, at the least cost: one pair more at a time on the cheapest way
/// through the network source -> member -> scion -> rootstock, which may turn earlier decisions
/// around (Dijkstra on reduced costs).
class StemFlow {
 public:
  StemFlow(std::span<const Micrometres> rootstocks, std::vector<FlowScion> scions, FlowCosts costs,
           const Tolerance& tolerance);

  void run() {
    while (augment()) {
    }
  }
  /// By scion: its rootstock's place, or kNoStem.
  const std::vector<std::size_t>& rootstock_of() const { return root_of_; }
  /// No allowed pair is further apart.
  static Micrometres widest(std::span<const Micrometres> rootstocks,
                            std::span<const FlowScion> scions);

 private:
  using Cost = std::int64_t;
  struct Fitting {
    std::size_t first, last;  // in by_thickness_
  };

  Fitting roots_for(Micrometres scion, const Tolerance& tolerance) const;
  Cost pair_cost(std::size_t scion, std::size_t root) const;
  std::size_t root_node(std::size_t root) const { return scions_.size() + root; }
  std::size_t member_node(std::size_t m) const { return scions_.size() + roots_.size() + m; }
  void begin_ways();
  void reach(std::size_t from, std::size_t to, Cost cost);
  void leave_member(std::size_t member, Cost cost);
  void leave_scion(std::size_t scion, Cost cost);
  bool augment();
  void settle(Cost reached);
  void turn_around(std::size_t node);

  std::vector<Micrometres> roots_;
  std::vector<FlowScion> scions_;
  FlowCosts costs_;
  std::vector<std::size_t> by_thickness_{};
  std::vector<Fitting> fitting_{};
  std::vector<std::size_t> root_of_, scion_of_;
  std::vector<std::size_t> used_;
  // By node: scions first, then rootstocks, then members.
  std::vector<Cost> potential_;
  std::vector<Cost> distance_{};
  std::vector<std::size_t> came_from_{};
  std::vector<bool> done_{};
  using Open = std::pair<Cost, std::size_t>;
  std::priority_queue<Open, std::vector<Open>, std::greater<>> open_{};
};

}  // namespace takehold::client
