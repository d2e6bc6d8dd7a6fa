#include "daemon/healing/check_regime.hpp"

#include <set>

#include "sensors/quantity/time_zone.hpp"

namespace takehold::daemon {
namespace {

constexpr std::size_t kLongestName = 64;

/// Collects what is wrong with one stage, or with the regime.
struct Check {
  std::vector<RegimeMistake>& mistakes;
  std::optional<std::size_t> stage;

  void refuse(const char* key, std::string code, std::string title, std::string detail = "") {
    mistakes.push_back(
        {stage, key, {std::move(code), std::move(title), std::move(detail), "", ""}});
  }

  void name(const std::string& name) {
    if (name.empty()) refuse("name", "missing-name", "a name is missing");
    if (name.size() > kLongestName) refuse("name", "out-of-range", "the name is too long");
  }

  template <class Q>
  void band(const char* key, const Band<Q>& band, double least, double most) {
    if (band.high < band.low) {
      refuse(key, "bad-band", "the band is upside down", "write the smaller number first");
    }
    if (number_of(band.low) < least || number_of(band.high) > most) {
      refuse(key, "out-of-range", "`" + std::string(key) + "` is outside what air can be");
    }
  }

  template <class Q>
  void ramp(const char* key, const std::optional<Ramp<Q>>& ramp, double least, double most) {
    if (!ramp) return;
    band(key, ramp->from, least, most);
    if (!ramp->is_level()) band(key, ramp->to, least, most);
  }
};

/// What is asked for by night: of what is asked for by day, where it is told when that is.
template <class Q>
void check_night(const std::optional<Ramp<Q>>& night, const Regime& regime, const char* key,
                 Check check, double least, double most) {
  if (!night) return;
  check.ramp(key, night, least, most);
  if (regime.day) return;
  check.mistakes.push_back(
      {check.stage,
       key,
       {"no-day-hours", "the stage tells day and night apart, but not when it is day", "", "",
        "at the top: day = [\"06:00\", \"22:00\"]"}});
}

void check_nights(const Stage& stage, const Regime& regime, Check check) {
  check_night(stage.night_temperature, regime, "temperature_degc", check, -10.0, 60.0);
  check_night(stage.night_humidity, regime, "humidity_pct", check, 0.0, 100.0);
  check_night(stage.night_vapour_deficit, regime, "vpd_kpa", check, 0.0, 10.0);
}

void check_stage(const Stage& stage, Check check) {
  check.name(stage.name);
  if (stage.length < std::chrono::minutes(1) || stage.length > kLongestStage) {
    check.refuse("hours", "out-of-range", "a stage lasts from a minute to 60 days");
  }
  check.ramp("temperature_degc", stage.temperature, -10.0, 60.0);
  check.ramp("humidity_pct", stage.humidity, 0.0, 100.0);
  check.ramp("vpd_kpa", stage.vapour_deficit, 0.0, 10.0);
  if (stage.light) check.band("light_umol", *stage.light, 0.0, 3000.0);
  if (stage.humidity && stage.vapour_deficit) {
    check.refuse("vpd_kpa", "two-humidities", "a stage asks for humidity_pct or vpd_kpa, not both");
  }
}

}  // namespace

std::vector<RegimeMistake> check_regime(const Regime& regime) {
  std::vector<RegimeMistake> mistakes;
  Check whole{mistakes, std::nullopt};
  whole.name(regime.name);
  if (regime.stages.empty()) whole.refuse("stage", "no-stage", "a healing plan needs a stage");
  if (regime.stages.size() > kMostStages) {
    whole.refuse("stage", "out-of-range", "too many stages", "at most 30");
  }
  if (!regime.time_zone.empty() && sensors::TimeZone::named(regime.time_zone).has_error()) {
    whole.refuse("time_zone", "unknown-time-zone", "no such time zone", regime.time_zone);
  }
  std::set<std::string> names;
  for (std::size_t i = 0; i < regime.stages.size(); ++i) {
    Check check{mistakes, i};
    check_stage(regime.stages[i], check);
    check_nights(regime.stages[i], regime, check);
    if (!names.insert(regime.stages[i].name).second) {
      check.refuse("name", "duplicate-name", "two stages have this name", regime.stages[i].name);
    }
  }
  return mistakes;
}

}  // namespace takehold::daemon
