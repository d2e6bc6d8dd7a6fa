#include "sensors/check/judge.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>

namespace takehold::sensors {
namespace {

std::string told(const char* form, double value) {
  char text[80];
  std::snprintf(text, sizeof text, form, value);
  return text;
}

bool is_possible(Celsius t, const PhysicalRange& range) {
  return std::isfinite(t.degc()) && t >= range.coldest && t <= range.warmest;
}

bool is_possible(RelativeHumidity h, const PhysicalRange& range) {
  const double over = range.overshoot.pct();
  return std::isfinite(h.pct()) && h.pct() >= -over && h.pct() <= 100.0 + over;
}

/// An extra value that cannot be is left out: nothing hangs on it.
void drop_impossible(Extras& extras, const PhysicalRange& range, std::string& reason) {
  if (extras.leaf_temperature && !is_possible(*extras.leaf_temperature, range)) {
    reason = told("a leaf of %.1f degC cannot be", extras.leaf_temperature->degc());
    extras.leaf_temperature.reset();
  }
  const auto within = [](double value, double most) { return value >= 0.0 && value <= most; };
  if (extras.co2 && !within(extras.co2->ppm(), range.most_co2.ppm())) {
    reason = told("%.0f ppm of carbon dioxide cannot be", extras.co2->ppm());
    extras.co2.reset();
  }
  if (extras.light && !within(extras.light->umol(), range.most_light.umol())) {
    reason = told("%.0f umol of light cannot be", extras.light->umol());
    extras.light.reset();
  }
}

Quality worse(Quality a, Quality b) {
  return std::max(a, b);
}  // numbered from good to none

}  // namespace

Judged judge(const Reading& raw, const Calibration& calibration, const PhysicalRange& range) {
  Judged judged{raw, ""};
  Reading& reading = judged.reading;
  reading.raw = {raw.temperature, raw.humidity};
  drop_impossible(reading.extras, range, judged.reason);
  if (reading.is_empty()) {
    reading.quality = Quality::none;
    if (judged.reason.empty()) judged.reason = "the probe gave no value";
    return judged;
  }
  if (raw.temperature) {
    reading.temperature = corrected(*raw.temperature, calibration.temperature);
    if (!is_possible(*reading.temperature, range)) {
      reading.quality = worse(raw.quality, Quality::bad);
      judged.reason = told("%.1f degC cannot be", reading.temperature->degc());
    }
  }
  if (raw.humidity) {
    reading.humidity = corrected(*raw.humidity, calibration.humidity);
    if (!is_possible(*reading.humidity, range)) {
      reading.quality = worse(reading.quality, Quality::bad);
      judged.reason = told("%.1f %% humidity cannot be", reading.humidity->pct());
    } else {
      reading.humidity = RelativeHumidity::pct(std::clamp(reading.humidity->pct(), 0.0, 100.0));
    }
  }
  return judged;
}

}  // namespace takehold::sensors
