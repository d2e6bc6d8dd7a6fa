#include "daemon/healing/regime_toml.hpp"

#include <array>
#include <charconv>
#include <cmath>

#include "daemon/healing/check_regime.hpp"
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

/// Humidity is what mostly moves, so a stage may give it as `from` and `to` without more.
void read_humidity(const TomlTable& table, Stage& stage) {
  stage.humidity = ramp_of<sensors::RelativeHumidity>(table, "humidity_pct");
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
  stage.temperature = ramp_of<sensors::Celsius>(table, "temperature_degc");
  read_humidity(table, stage);
  stage.vapour_deficit = ramp_of<sensors::Pressure>(table, "vpd_kpa");
  if (const auto light = table.value("light_umol")) {
    stage.light = band_of<sensors::PhotonFlux>(*light);
  }
  if (auto tasks = table.texts("tasks")) stage.tasks = std::move(*tasks);
  return stage;
}

std::string number_text(double number) {
  std::array<char, 32> buffer;
  const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), number).ptr;
  return std::string(buffer.data(), end);
}

std::string quoted(const std::string& text) {
  std::string out = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\') {
      out += '\\';
      out += c;
    } else if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f) {
      constexpr char kDigits[] = "0123456789abcdef";
      out += "\\u00";
      out += kDigits[static_cast<unsigned char>(c) >> 4];
      out += kDigits[c & 15];
    } else {
      out += c;
    }
  }
  return out + '"';
}

std::string quoted(const std::vector<std::string>& texts) {
  std::string out;
  for (const auto& text : texts) out += (out.empty() ? "" : ", ") + quoted(text);
  return "[" + out + "]";
}

template <class Q>
std::string band_text(const Band<Q>& band) {
  return "[" + number_text(number_of(band.low)) + ", " + number_text(number_of(band.high)) + "]";
}

template <class Q>
std::string ramp_line(const char* key, const std::optional<Ramp<Q>>& ramp) {
  if (!ramp) return "";
  const std::string start = std::string(key) + " = ";
  if (ramp->is_level()) return start + band_text(ramp->from) + "\n";
  return start + "{ from = " + band_text(ramp->from) + ", to = " + band_text(ramp->to) + " }\n";
}

std::string stage_toml(const Stage& stage) {
  std::string out = "[[stage]]\nname = " + quoted(stage.name) + "\nwhere = \"" +
                    std::string(to_string(stage.where)) +
                    "\"\nhours = " + number_text(static_cast<double>(stage.length.count()) / 60.0) +
                    "\n";
  out += ramp_line("temperature_degc", stage.temperature);
  out += ramp_line("humidity_pct", stage.humidity);
  out += ramp_line("vpd_kpa", stage.vapour_deficit);
  if (stage.light) out += "light_umol = " + band_text(*stage.light) + "\n";
  if (!stage.tasks.empty()) out += "tasks = " + quoted(stage.tasks) + "\n";
  return out;
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

std::string regime_toml(const Regime& regime) {
  std::string out = "name = " + quoted(regime.name) + "\n";
  if (!regime.source.empty()) out += "source = " + quoted(regime.source) + "\n";
  if (!regime.methods.empty()) out += "methods = " + quoted(regime.methods) + "\n";
  for (const Stage& stage : regime.stages) out += stage_toml(stage);
  return out;
}

}  // namespace takehold::daemon
