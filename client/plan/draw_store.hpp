// Lots and sowings drawn once, however often a plan looks at them.
#pragma once

#include <list>
#include <map>
#include <tuple>

#include "client/plan/side_plan.hpp"

namespace takehold::client {

/// What is made perfect, to see what holds a pairing back.
struct Perfect {
  bool emergence = false;  ///< every seed comes up
  bool spread = false;     ///< every stem is graftable
};

/// The draws of one number of seasons. Not to be shared between threads; what it hands out lives as
/// long as it does.
class DrawStore {
 public:
  DrawStore(std::uint64_t seed, int seasons) : seed_(seed), seasons_(seasons) {}

  int seasons() const { return seasons_; }
  /// An empty one that draws the same.
  DrawStore alike() const { return {seed_, seasons_}; }
  const std::vector<LotLuck>& luck(const LotBelief& lot);
  /// At least so many seeds of the part.
  const SowingDraws& sowing(const PlannedPart& part, int seeds, bool every_seed);
  /// A side's sowings, with so many seeds to sow of it.
  std::vector<SideSowing> sowings(const SidePlan& side, int seeds, Perfect perfect);
  /// Its stems on the days of `shifts`.
  SideStems stems(const SidePlan& side, int seeds, std::span<const int> shifts, Perfect perfect);

 private:
  using Key = std::tuple<std::uint64_t, std::uint64_t, const Course*, bool>;

  std::uint64_t seed_;
  int seasons_;
  std::map<std::uint64_t, std::vector<LotLuck>> luck_;
  std::map<Key, SowingDraws> sowings_;
};

}  // namespace takehold::client
