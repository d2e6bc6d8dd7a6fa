// A chamber of the project's simulator under the watch, for tests: what befalls it, and what is
// said of it.
#pragma once

#include <string>
#include <vector>

#include "daemon/watch/chamber.hpp"
#include "sensors/check/judge.hpp"
#include "sensors/sim/scene.hpp"

namespace takehold::daemon {

struct WatchedChamber {
  sensors::Instant start = *sensors::parse_instant("2027-04-12T00:00:00Z");
  double low_pct = 90, high_pct = 100;
  sensors::SceneSettings scene;

  WatchedChamber() {
    scene.probes = 2;
    scene.start = start;
    scene.seed = 5;
    scene.chamber.set_humidity = sensors::RelativeHumidity::pct(95);
  }

  void befalls(const std::string& fault) { scene.faults.push_back(*sensors::parse_fault(fault)); }

  std::vector<Event> watch(std::chrono::hours length) const {
    const char* names[] = {"left", "right"};
    Chamber chamber(WatchOptions{}, {{"left"}, {"right"}}, start, 0);
    chamber.put(batch(), start);
    sensors::Scene air(scene);
    std::vector<Event> all;
    for (auto at = start; at < start + length; at += std::chrono::seconds(10)) {
      air.advance_to(at);
      std::vector<sensors::Reading> round;
      for (int i = 0; i < 2; ++i) {
        const auto says = air.says(i);
        if (!says) continue;
        round.push_back(sensors::judge({names[i], at, says->temperature, says->humidity}).reading);
      }
      for (auto& event : chamber.see(at, round)) all.push_back(std::move(event));
    }
    return all;
  }

  std::vector<Warning> warnings(std::chrono::hours length) const {
    std::vector<Warning> found;
    for (const auto& event : watch(length)) {
      if (event.type == EventType::warning) found.push_back(*event.warning);
    }
    return found;
  }

 private:
  Batch batch() const {
    using sensors::Celsius;
    using sensors::RelativeHumidity;
    const Band<Celsius> warm{Celsius::degc(22), Celsius::degc(29)};
    const Band<RelativeHumidity> moist{RelativeHumidity::pct(low_pct),
                                       RelativeHumidity::pct(high_pct)};
    Stage stage;
    stage.name = "closed";
    stage.length = std::chrono::hours(240);
    stage.temperature = Ramp<Celsius>{warm, warm};
    stage.humidity = Ramp<RelativeHumidity>{moist, moist};
    Batch one;
    one.label = "G1";
    one.regime = {"trial", "", {}, {stage}};
    one.entered_at = start;
    return one;
  }
};

}  // namespace takehold::daemon
