#include "sensors/check/settling.hpp"

#include <algorithm>
#include <cmath>

namespace takehold::sensors {
namespace {

constexpr double kErrors = 2.0;
constexpr double kLeftToGoH = 1.0;  // a jar's time constant, as that of a capped probe's
constexpr double kSmallestStep = 0.01;
constexpr double kTenth = 0.1;

}  // namespace

void Settling::add(Instant at, Celsius temperature, RelativeHumidity humidity) {
  if (!first_at_) first_at_ = at;
  samples_.push_back({at, temperature.degc(), humidity.pct()});
  while (samples_.front().at < at - options_.window) samples_.pop_front();
}

bool Settling::is_full() const {
  return samples_.size() >= options_.least_readings &&
         samples_.back().at - *first_at_ >= options_.window;
}

Settling::Line Settling::line(double Sample::*value) const {
  const double n = double(samples_.size());
  const auto hours = [&](const Sample& sample) {
    return std::chrono::duration<double, std::ratio<3600>>(sample.at - samples_.front().at).count();
  };
  double mean_t = 0.0, mean_v = 0.0;
  for (const auto& sample : samples_) {
    mean_t += hours(sample) / n;
    mean_v += sample.*value / n;
  }
  double tt = 0.0, tv = 0.0, vv = 0.0;
  for (const auto& sample : samples_) {
    const double t = hours(sample) - mean_t;
    const double v = sample.*value - mean_v;
    tt += t * t;
    tv += t * v;
    vv += v * v;
  }
  const double slope = tt > 0.0 ? tv / tt : 0.0;
  const double left = std::max(0.0, vv - slope * tv) / std::max(1.0, n - 2.0);
  return {mean_v, slope, tt > 0.0 ? std::sqrt(left / tt) : 0.0, std::sqrt(left)};
}

double Settling::step() const {
  double finest = 1.0;
  for (std::size_t i = 1; i < samples_.size(); ++i) {
    const double change = std::abs(samples_[i].pct - samples_[i - 1].pct);
    if (change > kSmallestStep / 2) finest = std::min(finest, change);
  }
  const double told = samples_.back().pct;
  // Never moved: decimals say that it could have.
  return finest == 1.0 && told != std::round(told) ? kTenth : finest;
}

std::optional<double> Settling::points_per_hour() const {
  if (samples_.size() < 3) return std::nullopt;
  return line(&Sample::pct).per_hour;
}

std::optional<Settling::Rest> Settling::rest() const {
  if (!is_full()) return std::nullopt;
  const auto moisture = line(&Sample::pct);
  const auto warmth = line(&Sample::degc);
  const auto level = [](const Line& found, double limit) {
    return std::abs(found.per_hour) <= limit + kErrors * found.slope_error &&
           kErrors * found.slope_error <= 10.0 * limit;
  };
  if (!level(moisture, options_.points_per_hour) || !level(warmth, options_.kelvin_per_hour)) {
    return std::nullopt;
  }
  const double of_step = step() / std::sqrt(12.0);
  const double of_noise = moisture.scatter / std::sqrt(double(samples_.size()));
  return Rest{Celsius::degc(warmth.mean), RelativeHumidity::pct(moisture.mean),
              RelativeHumidity::pct(std::hypot(of_step, of_noise, kLeftToGoH * moisture.per_hour))};
}

}  // namespace takehold::sensors
