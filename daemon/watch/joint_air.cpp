#include "daemon/watch/joint_air.hpp"

#include <algorithm>

namespace takehold::daemon {

using sensors::Celsius;
using sensors::Instant;
using sensors::RelativeHumidity;

namespace {

struct Sum {
  double total = 0;
  int count = 0;
  void add(double value) {
    total += value;
    ++count;
  }
};

}  // namespace

void JointAir::add_probe(const std::string& name, std::chrono::milliseconds holds) {
  probes_[name].holds = holds;
}

void JointAir::see(const sensors::Reading& reading) {
  if (reading.quality > sensors::Quality::suspect) return;
  const auto found = probes_.find(reading.probe);
  if (found != probes_.end()) found->second.reading = reading;
}

Air JointAir::at(Instant now) const {
  Sum warmth;
  Sum moisture;
  for (const auto& [name, last] : probes_) {
    if (!last.reading || now - last.reading->at >= last.holds) continue;
    if (last.reading->quality != sensors::Quality::good) continue;
    if (last.reading->temperature) warmth.add(last.reading->temperature->degc());
    if (last.reading->humidity) moisture.add(std::min(last.reading->humidity->pct(), 100.0));
  }
  Air air;
  if (warmth.count > 0) air.temperature = Celsius::degc(warmth.total / warmth.count);
  if (moisture.count > 0) air.humidity = RelativeHumidity::pct(moisture.total / moisture.count);
  return air;
}

std::vector<Air> JointAir::disputed(Instant now) const {
  std::vector<Air> airs;
  for (const auto& [name, last] : probes_) {
    if (!last.reading || now - last.reading->at >= last.holds) continue;
    if (last.reading->quality != sensors::Quality::suspect) continue;
    airs.push_back({last.reading->temperature, last.reading->humidity});
  }
  return airs;
}

}  // namespace takehold::daemon
