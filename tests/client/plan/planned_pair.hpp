// Sides of a pairing as the simulation is given them, for tests.
#pragma once

#include "client/plan/pair_seasons.hpp"

namespace takehold::client {

inline Course bench_at(double day, double night) {
  return Course(hourly_from_noon({sensors::Celsius::degc(day), sensors::Celsius::degc(night), 14},
                                 std::chrono::days(120)));
}

inline SidePlan side_of(const Course& course, std::uint64_t key, Species species, Chance viability,
                        int days_to_graft) {
  PlannedPart part;
  part.lot = {key, species, assumed_of(species, viability)};
  part.course = &course;
  part.days_to_graft = days_to_graft;
  return {{part}, false};
}

inline MatchCounter within_percent(double percent) {
  return {Tolerance::percent_of_mean(percent), 2600};
}

}  // namespace takehold::client
