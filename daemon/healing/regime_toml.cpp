#include "daemon/healing/regime_toml.hpp"

#include <cmath>

#include "daemon/healing/check_regime.hpp"
#include "daemon/healing/chore.hpp"
#include "daemon/toml/document.hpp"

namespace takehold::daemon {
namespace {

using sensors::Problem;
using sensors::Result;

template <class Q>
std::optional<Band<Q>> band_of(const TomlValue& value) {
  std::vector<double> ends;
  for (const auto& item : value.items()) {
    if (const auto end = item.number()) ends.push_back(*end);
  }
  if (ends.size() == 2) return Band<Q>{quantity_of<Q>(ends[0]), quantity_of<Q>(ends[1])};
  if (value.is_list()) {
    value.refuse({"bad-band", "a band has two numbers, the lower and the higher", "", "", ""});
  }
  return std::nullopt;
}

/// `from` and `to` as keys of `table`; one without the other is a mistake.
template <class Q>
std::optional<Ramp<Q>> moving(const TomlTable& table) {
  const auto from_value = table.value("from");
  const auto to_value = table.value("to");
  if (!from_value || !to_value) {
    table.refuse({"bad-band", "a moving band needs both `from` and `to`", "", "", ""});
    return std::nullopt;
  }
  const auto from = band_of<Q>(*from_value);
  const auto to = band_of<Q>(*to_value);
  if (!from || !to) return std::nullopt;
  return Ramp<Q>{*from, *to};
}

template <class Q>
std::optional<Ramp<Q>> ramp_of(const TomlTable& stage, const char* key) {
  const auto value = stage.value(key);
  if (!value) return std::nullopt;
  if (value->is_table()) return moving<Q>(*value->table());
  const auto band = band_of<Q>(*value);
  if (!band) return std::nullopt;
  return Ramp<Q>{*band, *band};
}

/// One band for all hours, or `day` and `night`, each of which may move.
template <class Q>
void read_asked(const TomlTable& stage, const char* key, std::optional<Ramp<Q>>& day,
                std::optional<Ramp<Q>>& night) {
  const auto value = stage.value(key);
  const auto parted = value && value->is_table() ? value->table() : std::nullopt;
  if (!parted || (!parted->has("day") && !parted->has("night"))) {
    day = ramp_of<Q>(stage, key);
    return;
  }
  day = ramp_of<Q>(*parted, "day");
  night = ramp_of<Q>(*parted, "night");
  if (!parted->has("day") || !parted->has("night")) {
    parted->refuse({"bad-band", "a band by hours needs both `day` and `night`", "", "", ""});
  }
}

/// day = ["06:00", "22:00"]
std::optional<DayHours> read_day(const TomlTable& root) {
  const auto texts = root.texts("day");
  if (!texts) return std::nullopt;
  if (texts->size() == 2) {
    const auto begins = clock_time((*texts)[0]), ends = clock_time((*texts)[1]);
    if (begins && ends && *begins != *ends) return DayHours{*begins, *ends};
  }
  root.refuse("day", {"bad-hours", "`day` is when it begins and when it ends", "", "",
                      "day = [\"06:00\", \"22:00\"]"});
  return std::nullopt;
}

/// Humidity is what mostly moves, so a stage may give it as `from` and `to` without more.
void read_humidity(const TomlTable& table, Stage& stage) {
  read_asked(table, "humidity_pct", stage.humidity, stage.night_humidity);
  if (!table.has("from") && !table.has("to")) return;
  if (table.has("humidity_pct") || table.has("vpd_kpa")) {
    table.refuse("from", {"two-humidities", "the stage gives its humidity twice", "", "", ""});
    return;
  }
  stage.humidity = moving<sensors::RelativeHumidity>(table);
}

Stage read_stage(const TomlTable& table) {
  Stage stage;
  stage.name = table.need_text("name");
  if (const auto place = table.choice("where", {"chamber", "bench"})) {
    stage.where = *stage_place(*place);
  }
  const double hours = table.need_number("hours");
  const double longest = std::chrono::duration<double, std::ratio<3600>>(kLongestStage).count();
  const bool sane = std::abs(hours) <= 2 * longest;  // else: as long as the check refuses
  stage.length = std::chrono::minutes(std::llround((sane ? hours : 2 * longest) * 60.0));
  read_asked(table, "temperature_degc", stage.temperature, stage.night_temperature);
  read_humidity(table, stage);
  read_asked(table, "vpd_kpa", stage.vapour_deficit, stage.night_vapour_deficit);
  if (const auto light = table.value("light_umol")) {
    stage.light = band_of<sensors::PhotonFlux>(*light);
  }
  if (auto tasks = table.texts("tasks")) stage.tasks = std::move(*tasks);
  stage.advance_when = table.text("advance_when").value_or("");
  return stage;
}

}  // namespace

Result<Regime> read_regime(std::string_view text, const std::string& file) {
  const auto document = parse_toml(text, file);
  if (!document) return document.error();
  const TomlTable root = document->root();
  Regime regime;
  regime.name = root.need_text("name");
  regime.source = root.text("source").value_or("");
  if (auto methods = root.texts("methods")) regime.methods = std::move(*methods);
  regime.day = read_day(root);
  regime.time_zone = root.text("time_zone").value_or("");
  const auto tables = root.tables("stage");
  for (const TomlTable& table : tables) regime.stages.push_back(read_stage(table));
  // What is wrong in form is told first; only a well-formed regime is looked at for its sense.
  if (document->mistakes().empty()) {
    for (const auto& mistake : check_regime(regime)) {
      const TomlTable& place = mistake.stage ? tables[*mistake.stage] : root;
      place.refuse(mistake.key, mistake.problem);
    }
  }
  const auto mistakes = document->mistakes();
  if (!mistakes.empty()) return joined(mistakes);
  return regime;
}

}  // namespace takehold::daemon
