#include "client/command/chamber_view.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>

#include "client/terminal/text_width.hpp"
#include "sensors/air/psychrometrics.hpp"

namespace takehold::client {

namespace {

using daemon::Band;
using daemon::number_of;
using daemon::StatusMessage;

/// "4 min", "5 h 20 min", "3 d 7 h": how long, to the precision a grower needs.
std::string length_text(std::chrono::milliseconds length) {
  using namespace std::chrono;
  const auto seconds_long = duration_cast<seconds>(std::max(length, 0ms)).count();
  if (seconds_long < 120) return fmt::format("{} s", seconds_long);
  if (seconds_long < 2 * 3600) return fmt::format("{} min", seconds_long / 60);
  const auto two = [](auto large, const char* of_large, auto small, const char* of_small) {
    return small == 0 ? fmt::format("{} {}", large, of_large)
                      : fmt::format("{} {} {} {}", large, of_large, small, of_small);
  };
  const auto hours_long = seconds_long / 3600;
  if (hours_long < 12) return two(hours_long, "h", seconds_long / 60 % 60, "min");
  if (hours_long < 48) return fmt::format("{} h", hours_long);
  return two(hours_long / 24, "d", hours_long % 24, "h");
}

/// One value beside its band. `right` is none when nothing is asked or nothing is known.
struct Judged {
  std::string text;
  std::optional<bool> right;
  std::optional<double> part = std::nullopt;  ///< of the way from the band's low end to its high
};

template <class Q>
Judged judge(const char* what, const std::optional<Q>& value, const std::optional<Band<Q>>& band,
             const std::function<std::string(Q)>& show) {
  Judged judged{fmt::format("{:12} {:>10}", what, value ? show(*value) : "unknown"), std::nullopt};
  if (!band) return judged;
  judged.text += fmt::format("   wanted {} to {}", show(band->low), show(band->high));
  if (!value) return judged;
  judged.right = band->holds(*value);
  const double width = number_of(band->high) - number_of(band->low);
  if (width > 0) judged.part = (number_of(*value) - number_of(band->low)) / width;
  const char* word = *value < band->low ? "too low" : *value > band->high ? "too high" : "right";
  judged.text += fmt::format("   {}", word);
  return judged;
}

std::vector<Judged> judged_air(const StatusMessage& status, Units units) {
  const auto celsius = [units](sensors::Celsius t) { return shown(t, units); };
  const auto humidity = [](sensors::RelativeHumidity h) { return shown(h); };
  const auto pressure = [](sensors::Pressure p) { return fixed(p.kpa(), 2) + " kPa"; };
  return {judge<sensors::Celsius>("temperature", status.air.temperature, status.asks.temperature,
                                  celsius),
          judge<sensors::RelativeHumidity>("humidity", status.air.humidity, status.asks.humidity,
                                           humidity),
          judge<sensors::Pressure>("drying power", status.air.vapour_deficit,
                                   status.asks.vapour_deficit, pressure)};
}

std::string now_text(const StatusMessage& status, Units units) {
  if (!status.air.temperature && !status.air.humidity) return "no trusted reading";
  return fmt::format(
      "{}, {}", status.air.temperature ? shown(*status.air.temperature, units) : "warmth unknown",
      status.air.humidity ? shown(*status.air.humidity) : "humidity unknown");
}

std::string next_text(const StatusMessage& status, sensors::Instant now) {
  const daemon::OccupantMessage* first = nullptr;
  for (const auto& occupant : status.occupants) {
    if (occupant.left_at || !occupant.next) continue;
    if (first == nullptr || *occupant.next < *first->next) first = &occupant;
  }
  if (first == nullptr) return "no batch waits for a stage";
  return fmt::format("{} leaves {} in {}", first->label, first->stage,
                     length_text(*first->next - now));
}

ScreenLine head_line(const StatusMessage& status, const std::vector<Judged>& air,
                     sensors::Instant now, Units units) {
  const bool any_wrong =
      std::any_of(air.begin(), air.end(), [](const Judged& j) { return j.right == false; });
  const bool any_right =
      std::any_of(air.begin(), air.end(), [](const Judged& j) { return j.right == true; });
  const char* verdict = any_wrong   ? "WRONG for the batches in it"
                        : any_right ? "right for the batches in it"
                                    : "not judged";
  return {fmt::format("{}: {}; {}; {}", status.chamber, now_text(status, units), verdict,
                      next_text(status, now)),
          any_wrong ? Ink::bad : Ink::strong};
}

void add_occupants(std::vector<ScreenLine>& lines, const StatusMessage& status,
                   sensors::Instant now) {
  for (const auto& occupant : status.occupants) {
    if (occupant.left_at) continue;
    lines.push_back(
        {fmt::format("{}{}{}: {} for {}{}{}", occupant.label,
                     occupant.pairing.empty() ? "" : "  " + occupant.pairing,
                     occupant.count ? fmt::format(", {}", *occupant.count) : "", occupant.stage,
                     length_text(now - occupant.since),
                     occupant.next ? ", " + length_text(*occupant.next - now) + " to go" : "",
                     occupant.kept ? "; move it to the bench" : "")});
  }
}

void add_warnings(std::vector<ScreenLine>& lines, const StatusMessage& status,
                  sensors::Instant now) {
  for (const auto& warning : status.warnings) {
    std::string text = fmt::format("{}  {}  ({} ago", warning.id, warning.text,
                                   length_text(now - warning.raised_at));
    if (warning.acknowledged_at) text += ", seen";
    if (warning.shelved_until) text += ", quiet";
    lines.push_back({text + ")", warning.acknowledged_at ? Ink::warn : Ink::bad});
  }
}

/// ", 25.0 °C, 97 %, CO2 812 ppm; not trusted: it has not moved": what a probe said last.
std::string said(const daemon::ReadingMessage& last, Units units) {
  std::string words;
  const auto add = [&](const std::string& word) { words += ", " + word; };
  if (last.temperature) add(shown(*last.temperature, units));
  if (last.humidity) add(shown(*last.humidity));
  const auto& [leaf, co2, light] = last.extras;
  if (leaf) add("leaf " + shown(*leaf, units));
  if (co2) add("CO2 " + fixed(co2->ppm(), 0) + " ppm");
  if (light) add("light " + fixed(light->umol(), 0) + " umol");
  if (last.quality == sensors::Quality::suspect) words += "; not trusted";
  if (last.quality == sensors::Quality::bad) words += "; impossible";
  if (last.error) words += ": " + *last.error;
  return words;
}

void add_probes(std::vector<ScreenLine>& lines, const StatusMessage& status, sensors::Instant now,
                Units units) {
  for (const auto& probe : status.probes) {
    const std::string words =
        probe.last ? fmt::format("{} {} ago{}",
                                 probe.last->quality == sensors::Quality::none ? "asked" : "read",
                                 length_text(now - probe.last->at), said(*probe.last, units))
                   : "silent so far";
    lines.push_back({fmt::format("probe {} ({}): {}", probe.name, probe.place, words), Ink::faint});
  }
}

/// Where a value stands in its band and beside it: "    ├───────●──┤    ".
std::string gauge(double part, const TerminalStyle& style) {
  constexpr int kSide = 4, kInside = 11;
  const int at = std::clamp(kSide + 1 + static_cast<int>(std::lround(part * (kInside - 1))), 0,
                            2 * kSide + kInside + 1);
  std::string bar;
  for (int i = 0; i < 2 * kSide + kInside + 2; ++i) {
    const bool inside = kSide < i && i <= kSide + kInside;
    if (i == at) {
      bar += style.unicode ? "●" : "O";
    } else if (i == kSide) {
      bar += style.unicode ? "├" : "[";
    } else if (i == kSide + kInside + 1) {
      bar += style.unicode ? "┤" : "]";
    } else {
      bar += !inside ? " " : style.unicode ? "─" : "-";
    }
  }
  return bar;
}

/// What few probes tell: shown, never judged.
void add_beside(std::vector<ScreenLine>& lines, const StatusMessage& status, Units units) {
  const auto add = [&](const char* what, const std::string& value) {
    lines.push_back({fmt::format("{:12} {:>10}", what, value)});
  };
  const auto& [leaf, co2, light] = status.air.extras;
  if (leaf) add("leaf", shown(*leaf, units));
  if (const auto& pull = status.air.leaf_vapour_deficit) {
    add("on the leaf", fixed(pull->kpa(), 2) + " kPa");
    if (sensors::water_condenses(*pull)) lines.back().text += "   water condenses on it";
  }
  if (co2) add("CO2", fixed(co2->ppm(), 0) + " ppm");
  if (light) add("light", fixed(light->umol(), 0) + " umol");
}

}  // namespace

ChamberParts chamber_parts(const StatusMessage& status, sensors::Instant now,
                           const TerminalStyle& style, bool gauges) {
  const auto air = judged_air(status, style.units);
  ChamberParts parts;
  parts.head = head_line(status, air, now, style.units);
  for (const Judged& judged : air) {
    const Ink ink = !judged.right ? Ink::plain : *judged.right ? Ink::good : Ink::bad;
    const std::string bar = gauges && judged.part ? gauge(*judged.part, style) : "";
    parts.air.push_back({padded_right(judged.text, bar.empty() ? 0 : 58) + bar, ink});
  }
  if (const auto& dew_point = status.air.dew_point) {
    parts.air.push_back({fmt::format("{:12} {:>10}", "dew point", shown(*dew_point, style.units))});
  }
  add_beside(parts.air, status, style.units);
  add_occupants(parts.batches, status, now);
  add_warnings(parts.warnings, status, now);
  if (status.warnings.empty()) parts.warnings.push_back({"no warning stands", Ink::good});
  add_probes(parts.probes, status, now, style.units);
  return parts;
}

std::vector<ScreenLine> chamber_lines(const StatusMessage& status, sensors::Instant now,
                                      Units units) {
  TerminalStyle style;
  style.units = units;
  const auto parts = chamber_parts(status, now, style, false);
  std::vector<ScreenLine> lines{parts.head, {}};
  const auto add = [&](const std::vector<ScreenLine>& more) {
    lines.insert(lines.end(), more.begin(), more.end());
  };
  add(parts.air);
  lines.push_back({});
  add(parts.batches);
  add(parts.warnings);
  add(parts.probes);
  return lines;
}

std::vector<ScreenLine> chamber_brief(const StatusMessage& status, Units units) {
  std::vector<ScreenLine> lines{head_line(status, judged_air(status, units), status.at, units)};
  add_warnings(lines, status, status.at);
  return lines;
}

}  // namespace takehold::client
