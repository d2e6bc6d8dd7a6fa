#include "client/command/past_air.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <sstream>

#include "client/terminal/chart.hpp"
#include "client/terminal/numbers.hpp"

namespace takehold::client {

namespace {

using Values = std::vector<std::optional<double>>;

bool in_chamber(const daemon::StatusMessage& status, const std::string& probe) {
  return std::any_of(status.probes.begin(), status.probes.end(), [&](const auto& known) {
    return known.name == probe && known.place == "chamber";
  });
}

/// The mean of the chamber's probes, bucket by bucket.
template <class Q>
Values means(const PastAir& air, std::optional<daemon::Spread<Q>> daemon::ReadingBucket::*quantity,
             double (*number)(Q)) {
  Values sums;
  std::vector<int> counts;
  for (const auto& probe : air.past.probes) {
    if (!in_chamber(air.status, probe.probe)) continue;
    sums.resize(std::max(sums.size(), probe.buckets.size()));
    counts.resize(sums.size());
    for (std::size_t i = 0; i < probe.buckets.size(); ++i) {
      const auto& spread = probe.buckets[i].*quantity;
      if (!spread) continue;
      sums[i] = sums[i].value_or(0.0) + number(spread->mean);
      ++counts[i];
    }
  }
  for (std::size_t i = 0; i < sums.size(); ++i) {
    if (sums[i]) *sums[i] /= counts[i];
  }
  return sums;
}

/// Since when all batches inside are in the stage that they are in now, as a share of the span.
double asked_from(const PastAir& air) {
  sensors::Instant since = air.past.from;
  for (const auto& batch : air.status.occupants) {
    if (!batch.left_at) since = std::max(since, batch.since);
  }
  const double span = double((air.past.to - air.past.from).count());
  return span > 0 ? double((since - air.past.from).count()) / span : 0.0;
}

std::vector<ScreenLine> drawn(const std::string& title, const Values& values, ChartOptions options,
                              const PastAir& air, int width, int height) {
  options.width = std::max(10, width - 8);  // the scale takes the rest
  options.height = height - 2;
  options.band_from = asked_from(air);
  options.left_end = air.zone.local_clock(air.past.from);
  options.right_end = air.zone.local_clock(air.past.to);
  std::istringstream chart(chart_text(values, options, air.style));
  std::vector<ScreenLine> lines;
  for (std::string line; std::getline(chart, line);) lines.push_back({line});
  if (!lines.empty()) lines.insert(lines.begin(), {title, Ink::strong});
  return lines;
}

double percent(sensors::RelativeHumidity h) {
  return h.pct();
}
double celsius(sensors::Celsius t) {
  return t.degc();
}
double fahrenheit(sensors::Celsius t) {
  return t.degf();
}

}  // namespace

std::vector<ScreenLine> temperature_chart(const PastAir& air, int width, int height) {
  const bool us = air.style.units == Units::us;
  const auto number = us ? fahrenheit : celsius;
  ChartOptions options;
  options.decimals = 1;
  if (const auto& band = air.status.asks.temperature) {
    options.band_low = number(band->low);
    options.band_high = number(band->high);
  }
  return drawn(us ? "temperature, °F" : "temperature, °C",
               means(air, &daemon::ReadingBucket::temperature, number), options, air, width,
               height);
}

std::vector<ScreenLine> humidity_chart(const PastAir& air, int width, int height) {
  ChartOptions options;
  if (const auto& band = air.status.asks.humidity) {
    options.band_low = band->low.pct();
    options.band_high = band->high.pct();
  }
  return drawn("humidity, %", means(air, &daemon::ReadingBucket::humidity, percent), options, air,
               width, height);
}

}  // namespace takehold::client
