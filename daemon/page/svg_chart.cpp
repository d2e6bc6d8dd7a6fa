#include "daemon/page/svg_chart.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "sensors/codec/markup.hpp"

namespace takehold::daemon {

using sensors::Bucket;
using sensors::Instant;
using sensors::TimeSpan;
using sensors::ValueRange;

namespace {

// In the drawing's own units; the page stretches it to its width.
constexpr double kWidth = 640, kHeight = 220;
constexpr double kLeft = 54, kRight = 632, kTop = 10, kBottom = 190;

/// From what is measured to where it stands in the drawing.
struct Place {
  TimeSpan span;
  ValueRange range;

  double x(Instant at) const {
    const double part = double((at - span.from).count()) / double((span.to - span.from).count());
    return kLeft + std::clamp(part, 0.0, 1.0) * (kRight - kLeft);
  }
  double y(double value) const {
    const double part = (value - range.low) / (range.high - range.low);
    return kBottom - std::clamp(part, 0.0, 1.0) * (kBottom - kTop);
  }
};

ValueRange roomy(ValueRange range) {
  const double spare = std::max(0.05 * (range.high - range.low), 0.25);
  return {range.low - spare, range.high + spare};
}

std::string bands(const PageSeries& series, const Place& place) {
  std::string drawn;
  for (const auto& band : series.bands) {
    const double left = place.x(band.span.from), top = place.y(band.allowed.high);
    drawn += fmt::format(
        R"(<rect class="allowed" x="{:.1f}" y="{:.1f}" width="{:.1f}" height="{:.1f}"/>)", left,
        top, place.x(band.span.to) - left, place.y(band.allowed.low) - top);
  }
  return drawn;
}

Instant middle(const Bucket& bucket) {
  return bucket.span.from + (bucket.span.to - bucket.span.from) / 2;
}

/// The line and its veil, a new one after each gap.
std::string line(const PageSeries& series, const Place& place) {
  std::string drawn, means, highs, lows;
  const auto finish = [&] {
    if (means.empty()) return;
    drawn +=
        fmt::format(R"(<polygon class="veil" points="{}{}"/><polyline class="line" points="{}"/>)",
                    highs, lows, means);
    means = highs = lows = "";
  };
  for (const auto& bucket : series.buckets) {
    if (!bucket.mean) {
      finish();
      continue;
    }
    const double x = place.x(middle(bucket));
    means += fmt::format("{:.1f},{:.1f} ", x, place.y(*bucket.mean));
    highs += fmt::format("{:.1f},{:.1f} ", x, place.y(bucket.max.value_or(*bucket.mean)));
    lows = fmt::format("{:.1f},{:.1f} ", x, place.y(bucket.min.value_or(*bucket.mean))) + lows;
  }
  finish();
  return drawn;
}

std::string axes(const Place& place, const std::string& unit, const sensors::TimeZone& zone) {
  std::string drawn;
  const auto values = sensors::value_ticks(place.range, 5);
  for (const double value : values.at) {
    const double y = place.y(value);
    drawn += fmt::format(
        R"(<line class="mark" x1="{0}" x2="{1}" y1="{2:.1f}" y2="{2:.1f}"/><text x="{3}" y="{4:.1f}" text-anchor="end">{5:.{6}f}{7}</text>)",
        kLeft, kRight, y, kLeft - 6, y + 5, value, values.decimals, sensors::markup_text(unit));
  }
  for (const Instant at : sensors::time_ticks(place.span, 6, zone).at) {
    if (place.x(at) > kRight - 20) continue;  // its clock time would be cut
    drawn += fmt::format(
        R"(<line class="mark" x1="{0:.1f}" x2="{0:.1f}" y1="{1}" y2="{2}"/><text x="{0:.1f}" y="{3}" text-anchor="middle">{4}</text>)",
        place.x(at), kBottom, kBottom + 6, kBottom + 24, zone.local_clock(at));
  }
  return drawn;
}

}  // namespace

std::string svg_chart(const PageSeries& series, const std::string& title, const std::string& unit,
                      const sensors::TimeZone& zone) {
  const bool any = std::any_of(series.buckets.begin(), series.buckets.end(),
                               [](const Bucket& bucket) { return bucket.mean.has_value(); });
  const auto range = sensors::range_of(series.buckets, series.bands);
  if (!any || !range || series.span.from >= series.span.to) return "";
  const Place place{series.span, roomy(*range)};
  return fmt::format(R"(<svg class="chart" viewBox="0 0 {} {}" role="img"><title>{}</title>)",
                     kWidth, kHeight, sensors::markup_text(title)) +
         bands(series, place) + axes(place, unit, zone) + line(series, place) + "</svg>";
}

std::string svg_gauge(double value, const ValueRange& allowed) {
  // The band takes the middle half; what is further off stands at the end.
  const double width = std::max(allowed.high - allowed.low, 1e-9);
  const double part = (value - allowed.low) / width;
  const double x = std::clamp(75.0 + part * 150.0, 3.0, 297.0);
  return fmt::format(
      R"(<svg class="gauge" viewBox="0 0 300 26" aria-hidden="true"><rect class="scale" x="0" y="10" width="300" height="6"/><rect class="allowed" x="75" y="7" width="150" height="12"/><path class="here" d="M{:.1f} 0v26"/></svg>)",
      x);
}

}  // namespace takehold::daemon
