// A regime as the file it could have been read from.
#include <array>
#include <charconv>

#include "daemon/healing/chore.hpp"
#include "daemon/healing/regime_toml.hpp"

namespace takehold::daemon {
namespace {

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

std::string quoted_list(const std::vector<std::string>& texts) {
  std::string out;
  for (const auto& text : texts) out += (out.empty() ? "" : ", ") + quoted(text);
  return "[" + out + "]";
}

template <class Q>
std::string band_text(const Band<Q>& band) {
  return "[" + number_text(number_of(band.low)) + ", " + number_text(number_of(band.high)) + "]";
}

template <class Q>
std::string ramp_text(const Ramp<Q>& ramp) {
  if (ramp.is_level()) return band_text(ramp.from);
  return "{ from = " + band_text(ramp.from) + ", to = " + band_text(ramp.to) + " }";
}

template <class Q>
std::string asked_line(const char* key, const std::optional<Ramp<Q>>& day,
                       const std::optional<Ramp<Q>>& night) {
  if (!day) return "";
  const std::string start = std::string(key) + " = ";
  if (!night) return start + ramp_text(*day) + "\n";
  return start + "{ day = " + ramp_text(*day) + ", night = " + ramp_text(*night) + " }\n";
}

std::string stage_toml(const Stage& stage) {
  std::string out = "[[stage]]\nname = " + quoted(stage.name) + "\nwhere = \"" +
                    std::string(to_string(stage.where)) +
                    "\"\nhours = " + number_text(static_cast<double>(stage.length.count()) / 60.0) +
                    "\n";
  out += asked_line("temperature_degc", stage.temperature, stage.night_temperature);
  out += asked_line("humidity_pct", stage.humidity, stage.night_humidity);
  out += asked_line("vpd_kpa", stage.vapour_deficit, stage.night_vapour_deficit);
  if (stage.light) out += "light_umol = " + band_text(*stage.light) + "\n";
  if (!stage.tasks.empty()) out += "tasks = " + quoted_list(stage.tasks) + "\n";
  if (!stage.advance_when.empty()) out += "advance_when = " + quoted(stage.advance_when) + "\n";
  return out;
}

}  // namespace

std::string regime_toml(const Regime& regime) {
  std::string out = "name = " + quoted(regime.name) + "\n";
  if (!regime.source.empty()) out += "source = " + quoted(regime.source) + "\n";
  if (!regime.methods.empty()) out += "methods = " + quoted_list(regime.methods) + "\n";
  if (regime.day) {
    out += "day = " + quoted_list({clock_text(regime.day->begins), clock_text(regime.day->ends)}) +
           "\n";
  }
  if (!regime.time_zone.empty()) out += "time_zone = " + quoted(regime.time_zone) + "\n";
  for (const Stage& stage : regime.stages) out += stage_toml(stage);
  return out;
}

}  // namespace takehold::daemon
