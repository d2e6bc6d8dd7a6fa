// Rate table: Harrington & Minges 1954, in Knott's Handbook for Vegetable Growers: tomato, seed
// half an inch deep. Between its points a cubic Hermite curve through 1/days with the slopes of
// Fritsch and Butland 1984 (harmonic means of the neighbouring secants, from memory): it never
// overshoots.
#include "client/growth/emergence.hpp"

#include <array>
#include <cstddef>

namespace takehold::client {
namespace {

constexpr double kStep = 5.0;   // degC between the table's points
constexpr double kFirst = 5.0;  // degC
constexpr std::array<double, 8> kRate = {0,       1.0 / 43, 1.0 / 14, 1.0 / 8,
                                         1.0 / 6, 1.0 / 6,  1.0 / 9,  0};

double secant(std::size_t left) {
  return (kRate[left + 1] - kRate[left]) / kStep;
}

double slope(std::size_t point) {
  if (point == 0 || point + 1 == kRate.size()) return 0;  // joins the zero outside smoothly
  const double before = secant(point - 1);
  const double after = secant(point);
  return before * after > 0 ? 2 * before * after / (before + after) : 0;
}

}  // namespace

double emergence_rate_per_day(sensors::Celsius soil) {
  const double place = (soil.degc() - kFirst) / kStep;
  if (place <= 0 || place >= static_cast<double>(kRate.size() - 1)) return 0;
  const auto left = static_cast<std::size_t>(place);
  const double t = place - static_cast<double>(left);
  const double rise = t * t * (3 - 2 * t);
  return kRate[left] * (1 - rise) + kRate[left + 1] * rise +
         kStep * t * (1 - t) * (slope(left) * (1 - t) - slope(left + 1) * t);
}

EmergenceBelief emergence_prior(Species species) {
  if (species == Species::interspecific) return {1.3, 0.15, 0.22};
  return {1.0, 0.15, 0.15};
}

std::optional<Age> age_at_emergence(const Course& course, double factor) {
  return course.age_at_progress(factor);
}

std::optional<Age> age_by_thermal_time(sensors::Celsius constant, sensors::Celsius base,
                                       sensors::ThermalTime needed) {
  const double above = (constant - base).kelvin();
  if (above <= 0) return std::nullopt;
  return Age(needed.degc_days() / above);
}

}  // namespace takehold::client
