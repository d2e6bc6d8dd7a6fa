// How fast tomato seed comes up at a temperature.
#pragma once

#include <optional>

#include "client/growth/warmth.hpp"
#include "client/season/words.hpp"
#include "sensors/quantity/growth.hpp"
#include "sensors/quantity/temperature.hpp"

namespace takehold::client {

/// Progress towards emergence a day, in 1/day, at a constant soil temperature: the published table
/// of days to emergence, met exactly at its points, monotone between them, zero at and below 5 and
/// at and above 40 degC.
double emergence_rate_per_day(sensors::Celsius soil);

/// How a lot's emergence differs from the table, and its seeds among themselves. Seed i of the lot
/// comes up when progress reaches multiplier * z_i, ln z_i ~ N(0, seed_spread^2).
struct EmergenceBelief {
  double multiplier;     ///< median of the lot's own factor on the time needed; 1 = the table
  double multiplier_sd;  ///< sd of its logarithm: what is not known of the lot
  double seed_spread;    ///< sd of ln z_i: how uneven the lot comes up
};

/// Before anything was counted (assumed; interspecific seed is published as slow and uneven).
EmergenceBelief emergence_prior(Species species);

/// Age at which a seed sown at the start of `course` comes up, `factor` times the table's need;
/// nothing if the course ends first.
std::optional<Age> age_at_emergence(const Course& course, double factor);

/// The other published description, which disagrees with the table: warmth above a base adds up to
/// a fixed sum. Nothing at or below the base.
std::optional<Age> age_by_thermal_time(sensors::Celsius constant, sensors::Celsius base,
                                       sensors::ThermalTime needed);

}  // namespace takehold::client
