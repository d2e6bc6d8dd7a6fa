#include "client/growth/stem.hpp"

#include <cmath>

namespace takehold::client {

using sensors::Millimetres;
using sensors::ThermalTime;

Millimetres StemGrowth::diameter(ThermalTime since_emergence, double vigour) const {
  const double left = std::exp(-rate_per_degc_day * vigour * since_emergence.degc_days());
  return asymptote * std::pow(at_emergence / asymptote, left);
}

double StemGrowth::ln_mm(ThermalTime since_emergence, double vigour) const {
  const double left = std::exp(-rate_per_degc_day * vigour * since_emergence.degc_days());
  return std::log(asymptote.mm()) + std::log(at_emergence / asymptote) * left;
}

std::optional<ThermalTime> StemGrowth::heat_to(Millimetres diameter, double vigour) const {
  if (diameter <= at_emergence) return ThermalTime::degc_days(0);
  if (diameter >= asymptote) return std::nullopt;
  const double left = std::log(diameter / asymptote) / std::log(at_emergence / asymptote);
  return ThermalTime::degc_days(-std::log(left) / (rate_per_degc_day * vigour));
}

double StemGrowth::sensitivity(ThermalTime since_emergence, double vigour) const {
  const double x = rate_per_degc_day * vigour * since_emergence.degc_days();
  return x * std::log(asymptote / diameter(since_emergence, vigour));
}

bool Graftable::holds(ThermalTime since_emergence, Millimetres diameter) const {
  return since_emergence >= heat && diameter.um() >= thinnest.um() &&
         diameter.um() <= thickest.um();
}

LotSpeed average_speed(Species species) {
  return {emergence_prior(species).multiplier, 1.0};
}

std::optional<Seedling> middle_seedling(const Course& course, const LotSpeed& speed,
                                        const StemGrowth& stem, Age age) {
  const auto up = course.age_at_progress(speed.emergence);
  if (!up || *up > age || age > course.length()) return std::nullopt;
  const ThermalTime heat = course.heat_between(*up, age);
  return Seedling{heat, stem.diameter(heat, speed.vigour)};
}

std::optional<Age> age_at_diameter(const Course& course, const LotSpeed& speed,
                                   const StemGrowth& stem, Millimetres diameter) {
  const auto up = course.age_at_progress(speed.emergence);
  const auto heat = stem.heat_to(diameter, speed.vigour);
  if (!up || !heat) return std::nullopt;
  return course.age_at_heat(*up, *heat);
}

}  // namespace takehold::client
