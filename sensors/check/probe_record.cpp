#include "sensors/check/probe_record.hpp"

#include <algorithm>
#include <bit>

namespace takehold::sensors {
namespace {

using std::chrono::milliseconds;
using std::chrono::seconds;

// Air in a chamber can change by a kelvin or a few points in ten seconds, when it is opened; a
// change this large is a leap, and whether air made it is asked of the other probes. A probe asked
// once a minute or less sees whole openings and half cycles between two readings.
constexpr double kLeapKelvin = 1.5;
constexpr double kLeapPoints = 6.0;
constexpr double kSlowFactor = 3.0;
constexpr auto kSlow = seconds(45);
constexpr auto kShortestQuick = seconds(30);
constexpr double kFull = 99.95;  // 100 % as a probe with one decimal tells it
constexpr unsigned kLastTen = 0x3ff;

double factor_of(const CheckedProbe& probe) {
  return probe.every > kSlow ? kSlowFactor : 1.0;
}

milliseconds quick_of(const CheckedProbe& probe) {
  return std::max<milliseconds>(probe.every * 5 / 2, kShortestQuick);
}

}  // namespace

ProbeRecord::ProbeRecord(CheckedProbe probe)
    : probe_(std::move(probe)),
      temperature_(kLeapKelvin * factor_of(probe_), quick_of(probe_)),
      humidity_(kLeapPoints * factor_of(probe_), quick_of(probe_)) {}

void ProbeRecord::add(const Reading& reading) {
  if (reading.quality == Quality::none) return;
  last_bad_ = (last_bad_ << 1) | (reading.quality == Quality::bad ? 1u : 0u);
  if (reading.quality == Quality::bad) return;
  if (newest_at_ && reading.at <= *newest_at_) return;  // told twice: nothing new
  const auto before = unchanged_since();
  const bool has_run = newest_at_.has_value();
  const auto newest_before = newest_at_;
  newest_at_ = reading.at;
  if (reading.temperature) temperature_.add(reading.at, reading.temperature->degc());
  if (reading.humidity) humidity_.add(reading.at, reading.humidity->pct());
  note_pin(reading);
  if (!has_run || unchanged_since() != reading.at) return;
  ++changes_;
  longest_unchanged_ = std::max<milliseconds>(longest_unchanged_, *newest_before - before);
}

void ProbeRecord::note_pin(const Reading& reading) {
  if (!reading.humidity) return;
  if (reading.humidity->pct() < kFull) {
    if (pinned_since_) {
      longest_pinned_ = std::max<milliseconds>(longest_pinned_, reading.at - *pinned_since_);
    }
    pinned_since_.reset();
    ++below_100_;
    return;
  }
  if (!pinned_since_) pinned_since_ = reading.at;
  below_100_ = 0;
}

bool ProbeRecord::is_out_of_range() const {
  return (last_bad_ & 3u) == 3u || std::popcount(last_bad_ & kLastTen) >= 3;
}

Instant ProbeRecord::unchanged_since() const {
  if (!temperature_.newest()) return humidity_.unchanged_since();
  if (!humidity_.newest() || pinned_since_) return temperature_.unchanged_since();
  return std::max(temperature_.unchanged_since(), humidity_.unchanged_since());
}

int ProbeRecord::unchanged_readings() const {
  if (!temperature_.newest()) return humidity_.unchanged_readings();
  if (!humidity_.newest() || pinned_since_) return temperature_.unchanged_readings();
  return std::min(temperature_.unchanged_readings(), humidity_.unchanged_readings());
}

}  // namespace takehold::sensors
