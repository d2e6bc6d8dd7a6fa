#include "daemon/io/page_content.hpp"

#include <algorithm>
#include <utility>

#include "daemon/io/messages.hpp"

namespace takehold::daemon {

using namespace std::chrono_literals;
using sensors::Instant;
using sensors::TimeSpan;
using sensors::ValueRange;

namespace {

constexpr auto kShown = 12h;
constexpr int kBuckets = 144;  // five minutes each

using Spread = std::optional<Bucket::Spread>;

/// Several probes in one stretch of time: the mean of their means, the extremes of all.
sensors::Bucket joined(const std::vector<std::vector<Bucket>>& probes, std::size_t i,
                       Spread Bucket::*quantity, TimeSpan span) {
  sensors::Bucket out{span, {}, {}, {}, 0ms};
  double sum = 0.0;
  int known = 0;
  for (const auto& probe : probes) {
    const auto& spread = probe[i].*quantity;
    if (!spread) continue;
    sum += spread->mean;
    ++known;
    out.min = std::min(out.min.value_or(spread->low), spread->low);
    out.max = std::max(out.max.value_or(spread->high), spread->high);
  }
  if (known > 0) out.mean = sum / known;
  return out;
}

template <class Q>
void extend(std::vector<sensors::BandSpan>& bands, const std::optional<Band<Q>>& asked,
            TimeSpan span) {
  if (!asked) return;
  const double low = number_of(asked->low), high = number_of(asked->high);
  if (!bands.empty() && bands.back().span.to == span.from && bands.back().allowed.low == low &&
      bands.back().allowed.high == high) {
    bands.back().span.to = span.to;
  } else {
    bands.push_back({span, ValueRange{low, high}});
  }
}

/// From degC into what is shown.
void convert(PageSeries& series, ShownUnits units) {
  const auto shown = [units](double& degc) {
    degc = page_number(sensors::Celsius::degc(degc), units);
  };
  for (auto& bucket : series.buckets) {
    for (auto* value : {&bucket.mean, &bucket.min, &bucket.max}) {
      if (*value) shown(**value);
    }
  }
  for (auto& band : series.bands) {
    shown(band.allowed.low);
    shown(band.allowed.high);
  }
}

std::vector<std::string> chamber_probes(const Settings& settings) {
  std::vector<std::string> names;
  for (const auto& probe : settings.probes) {
    if (probe.in_chamber()) names.push_back(probe.name);
  }
  return names;
}

}  // namespace

PageContent page_content(const Keeper& keeper, LogReader& reader, Instant now,
                         const sensors::TimeZone& zone) {
  const TimeSpan span{now - kShown, now};
  PageContent content{
      status_message(keeper, now), {span, {}, {}}, {span, {}, {}}, zone, keeper.settings().units};
  const auto found =
      reader.buckets({chamber_probes(keeper.settings()), span.from, span.to, kBuckets});
  constexpr auto kStep = std::chrono::milliseconds(kShown) / kBuckets;
  for (int i = 0; i < kBuckets; ++i) {
    const TimeSpan part{span.from + i * kStep, span.from + (i + 1) * kStep};
    content.temperature.buckets.push_back(
        joined(found, std::size_t(i), &Bucket::temperature_degc, part));
    content.humidity.buckets.push_back(joined(found, std::size_t(i), &Bucket::humidity_pct, part));
    const Bands bands = keeper.chamber().bands(part.from + kStep / 2);
    extend(content.temperature.bands, bands.temperature, part);
    extend(content.humidity.bands, bands.humidity, part);
  }
  convert(content.temperature, content.units);
  return content;
}

}  // namespace takehold::daemon
