#include "daemon/page/page_air.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>

#include "daemon/page/svg_chart.hpp"
#include "sensors/codec/markup.hpp"

namespace takehold::daemon {

using sensors::markup_text;

double page_number(sensors::Celsius t, ShownUnits units) {
  return units == ShownUnits::us ? t.degf() : t.degc();
}

const char* degree_name(ShownUnits units) {
  return units == ShownUnits::us ? "°F" : "°C";
}

namespace {

/// A quantity as the page shows it.
struct Shown {
  const char* name;
  const char* too_low;  ///< what it is called when below its band
  const char* too_high;
  const char* unit;
  int decimals;
  std::optional<double> value;
  std::optional<sensors::ValueRange> asked;

  /// -1 below, 0 inside, 1 above; nothing: cannot be judged.
  std::optional<int> side() const {
    if (!value || !asked) return std::nullopt;
    return *value < asked->low ? -1 : *value > asked->high ? 1 : 0;
  }
  /// A limit of a band: no more digits than it was given with.
  std::string limit(double n) const { return fmt::format("{:g}", std::round(n * 100) / 100); }
  std::string number(double n) const { return fmt::format("{:.{}f}", n, decimals); }
};

/// "25.0 °C" or "77.0 °F"
std::string warmth(sensors::Celsius t, ShownUnits units) {
  return fmt::format("{:.1f} {}", page_number(t, units), degree_name(units));
}

/// What few probes tell, as it is written.
std::vector<std::string> beside_words(const sensors::Extras& extras, ShownUnits units) {
  std::vector<std::string> words;
  if (extras.co2) words.push_back(fmt::format("CO2 {:.0f} ppm", extras.co2->ppm()));
  if (extras.light) words.push_back(fmt::format("light {:.0f} µmol", extras.light->umol()));
  if (extras.leaf_temperature) words.push_back("leaf " + warmth(*extras.leaf_temperature, units));
  return words;
}

template <class Q>
std::optional<double> number(const std::optional<Q>& value) {
  return value ? std::optional(number_of(*value)) : std::nullopt;
}
template <class Q>
std::optional<sensors::ValueRange> range(const std::optional<Band<Q>>& band) {
  if (!band) return std::nullopt;
  return sensors::ValueRange{number_of(band->low), number_of(band->high)};
}

std::array<Shown, 3> shown_of(const StatusMessage& status, ShownUnits units) {
  const auto& air = status.air;
  const auto& asks = status.asks;
  std::optional<double> warm;
  std::optional<sensors::ValueRange> warm_range;
  if (air.temperature) warm = page_number(*air.temperature, units);
  if (const auto& band = asks.temperature) {
    warm_range = {page_number(band->low, units), page_number(band->high, units)};
  }
  return {{{"Temperature", "too cold", "too warm", degree_name(units), 1, warm, warm_range},
           {"Humidity", "too dry", "too moist", "%", 0, number(air.humidity), range(asks.humidity)},
           {"Drying power (VPD)", "dries too little", "dries too much", "kPa", 2,
            number(air.vapour_deficit), range(asks.vapour_deficit)}}};
}

std::string tile(const Shown& shown) {
  std::string text = fmt::format("<div><h2>{}</h2>\n", shown.name);
  text += shown.value ? fmt::format("<p class=\"value\">{} {}</p>\n", shown.number(*shown.value),
                                    shown.unit)
                      : "<p class=\"value\">unknown</p>\n";
  if (shown.asked) {
    const auto side = shown.side();
    const char* words = !side       ? ""
                        : *side < 0 ? shown.too_low
                        : *side > 0 ? shown.too_high
                                    : "right";
    if (shown.value) text += svg_gauge(*shown.value, *shown.asked);
    text +=
        fmt::format("<p class=\"asked\">{}{}should be {} to {} {}</p>\n", words, side ? "; " : "",
                    shown.limit(shown.asked->low), shown.limit(shown.asked->high), shown.unit);
  }
  return text + "</div>\n";
}

}  // namespace

Verdict verdict_of(const StatusMessage& status, ShownUnits units) {
  std::string wrong;
  bool judged = false, asked = false;
  for (const auto& shown : shown_of(status, units)) {
    asked = asked || shown.asked;
    const auto side = shown.side();
    judged = judged || side;
    if (!side || *side == 0) continue;
    wrong += (wrong.empty() ? "" : ", ") + std::string(*side < 0 ? shown.too_low : shown.too_high);
  }
  if (!wrong.empty()) return {"wrong", "Wrong for the batches in it: " + wrong};
  if (judged) return {"right", "Right for the batches in it"};
  if (asked || !status.air.at) return {"unknown", "No trusted reading"};
  return {"unknown", "No batch asks for anything"};
}

std::string title_of(const StatusMessage& status, ShownUnits units) {
  std::string title;
  if (status.air.temperature) title += warmth(*status.air.temperature, units) + ", ";
  if (status.air.humidity) title += fmt::format("{:.0f} %, ", status.air.humidity->pct());
  return title + verdict_of(status, units).style + " - " + status.chamber;
}

std::string air_now(const StatusMessage& status, ShownUnits units) {
  std::string text = "<section class=\"air\">\n";
  for (const auto& shown : shown_of(status, units)) text += tile(shown);
  text += "</section>\n";
  std::string more;
  const auto add = [&](const std::string& word) { more += (more.empty() ? "" : "; ") + word; };
  if (status.air.dew_point) add("dew point " + warmth(*status.air.dew_point, units));
  for (const auto& word : beside_words(status.air.extras, units)) add(word);
  if (const auto& pull = status.air.leaf_vapour_deficit) {
    add(fmt::format("drying power on the leaf {:.2f} kPa", pull->kpa()));
  }
  return more.empty() ? text : text + "<p class=\"asked\">" + more + "</p>\n";
}

std::string probe_words(const ProbeMessage& probe, ShownUnits units,
                        const sensors::TimeZone& zone) {
  if (!probe.last) return "has said nothing yet";
  const auto& last = *probe.last;
  std::string words;
  if (last.temperature) words += warmth(*last.temperature, units) + " ";
  if (last.humidity) words += fmt::format("{:.0f} % ", last.humidity->pct());
  for (const auto& word : beside_words(last.extras, units)) words += word + " ";
  words += "at " + zone.local_clock(last.at);
  if (last.quality == sensors::Quality::suspect) words += ", not trusted";
  if (last.error) words += ": " + markup_text(*last.error);
  return words;
}

}  // namespace takehold::daemon
