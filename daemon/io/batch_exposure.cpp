#include "daemon/io/batch_exposure.hpp"

#include <algorithm>

#include "daemon/watch/joint_air.hpp"
#include "daemon/watch/silence.hpp"

namespace takehold::daemon {

using sensors::Instant;
using sensors::Reading;

namespace {

/// Readings of one instant are one look at the chamber.
class Looks {
 public:
  Looks(const Settings& settings, ExposureCounter& counter) : counter_(counter) {
    for (const auto& probe : settings.probes) {
      if (probe.in_chamber()) joint_.add_probe(probe.name, Silence::limit_for(probe.every));
    }
  }

  void see(const Reading& reading) {
    if (reading.quality != sensors::Quality::good) return;
    if (at_ && reading.at != *at_) finish();
    joint_.see(reading);
    at_ = reading.at;
  }
  void finish() {
    if (!at_) return;
    const Air air = joint_.at(*at_);
    counter_.see(*at_, air.temperature, air.humidity);
  }

 private:
  ExposureCounter& counter_;
  JointAir joint_;
  std::optional<Instant> at_;
};

}  // namespace

ExposureMessage exposure_of(const Batch& batch, const Settings& settings, LogReader& reader,
                            Instant now) {
  ExposureMessage message;
  message.label = batch.label;
  if (!batch.from_settings()) {
    message.book = batch.book;
    message.revision = batch.revision;
  }
  message.regime = batch.regime.name;
  message.entered_at = batch.entered_at;
  message.left_at = batch.left_at;
  message.until = std::max(std::min(now, batch.left_at.value_or(now)), batch.entered_at);
  ExposureCounter counter(batch.regime, batch.entered_at, batch.events, message.until);
  Looks looks(settings, counter);
  reader.each_reading(batch.entered_at - kLongestBridged, message.until + kLongestBridged,
                      [&](const Reading& reading) { looks.see(reading); });
  looks.finish();
  message.exposure = counter.result();
  return message;
}

}  // namespace takehold::daemon
