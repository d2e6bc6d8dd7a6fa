#include "client/print/chart.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace takehold::client {
namespace {

using sensors::TimeSpan;
using sensors::ValueRange;

constexpr double kTitle = 7;
constexpr double kLeft = 12;  // for the marks of values
constexpr double kBelow = 9;  // for the marks of time
constexpr double kLegend = 5;
constexpr double kAside = 1.5;  // between the dots of two series
constexpr TextStyle kMark{.size_pt = 7.5, .smallest_pt = 4, .shade = kGrey};

TextStyle mark(Across across) {
  TextStyle style = kMark;
  style.across = across;
  style.down = Down::middle;
  return style;
}

void draw_title(Paper& paper, const Box& box, const std::string& title) {
  paper.text({box.x, box.y, box.width, kTitle - 1}, title,
             {.size_pt = 11, .smallest_pt = 6, .bold = true});
}

// What is drawn, widened to whole marks; nothing drawn: none.
std::optional<ValueRange> range_of(const TimeChart& chart) {
  std::optional<ValueRange> range;
  const auto take = [&](double value) {
    if (!range) range = ValueRange{value, value};
    range->low = std::min(range->low, value);
    range->high = std::max(range->high, value);
  };
  for (const ChartLine& line : chart.lines) {
    for (const auto& sample : line.samples) {
      if (sample.value) take(*sample.value);
    }
  }
  if (!range) return range;
  for (const ChartBand& band : chart.bands) {
    take(band.low);
    take(band.high);
  }
  const double air = std::max((range->high - range->low) * 0.06, 0.05);
  return ValueRange{range->low - air, range->high + air};
}

class Plot {
 public:
  Plot(Paper& paper, Box box, TimeSpan span, ValueRange range)
      : paper_(paper), box_(box), span_(span), range_(range) {}

  double x(sensors::Instant at) const {
    const auto whole = static_cast<double>((span_.to - span_.from).count());
    return box_.x + box_.width * static_cast<double>((at - span_.from).count()) / whole;
  }
  double y(double value) const {
    const double share = (value - range_.low) / (range_.high - range_.low);
    return box_.y + box_.height * (1 - std::clamp(share, 0.0, 1.0));
  }

  void band(const ChartBand& band) {
    const double from = x(std::max(band.span.from, span_.from));
    const double to = x(std::min(band.span.to, span_.to));
    if (to > from) paper_.fill({from, y(band.high), to - from, y(band.low) - y(band.high)}, kPale);
  }

  void marks(const sensors::TimeZone& zone) {
    const auto values = sensors::value_ticks(range_, 6);
    for (const double value : values.at) {
      paper_.line({box_.x - 1, y(value)}, {box_.x, y(value)}, 0.15, kGrey);
      paper_.text({box_.x - kLeft, y(value) - 2, kLeft - 1.5, 4},
                  fmt::format("{:.{}f}", value, values.decimals), mark(Across::right));
    }
    const auto times = sensors::time_ticks(span_, static_cast<int>(box_.width / 18) + 1, zone);
    std::optional<sensors::Day> day;
    for (const auto at : times.at) {
      paper_.line({x(at), box_.y + box_.height}, {x(at), box_.y + box_.height + 1}, 0.15, kGrey);
      const bool new_day = day != zone.day_of(at);
      day = zone.day_of(at);
      if (times.step < std::chrono::hours(24)) write_mark(at, 1.2, zone.local_clock(at));
      if (new_day) write_mark(at, 4.6, sensors::to_string(*day).substr(5));
    }
    paper_.frame(box_, 0.2, kGrey);
  }

  /// Dots are moved aside by `aside`, so that series measured at one moment can be told apart.
  void line(const ChartLine& line, double aside) {
    std::vector<Spot> run;
    for (const auto& sample : line.samples) {
      if (sample.at < span_.from || sample.at > span_.to) continue;
      if (sample.value && line.dots) {
        paper_.dot({x(sample.at) + aside, y(*sample.value)}, 0.6, line.shade);
      } else if (sample.value) {
        run.push_back({x(sample.at), y(*sample.value)});
      } else {
        paper_.lines(std::exchange(run, {}), 0.35, line.shade, line.dashed);
      }
    }
    paper_.lines(run, 0.35, line.shade, line.dashed);
  }

 private:
  void write_mark(sensors::Instant at, double drop, const std::string& text) {
    constexpr double kWide = 18;
    const double from =
        std::clamp(x(at) - kWide / 2, box_.x - kLeft, box_.x + box_.width - kWide / 2);
    paper_.text({from, box_.y + box_.height + drop, kWide, 3.4}, text, mark(Across::centre));
  }

  Paper& paper_;
  Box box_;
  TimeSpan span_;
  ValueRange range_;
};

void draw_legend(Paper& paper, const Box& box, std::span<const ChartLine> lines) {
  double x = box.x;
  const double middle = box.y + box.height / 2;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    const ChartLine& line = lines[i];
    const double wide = paper.text_width(line.name, mark(Across::left)) + 1;
    if (x + 7 + wide > box.x + box.width - 18) {
      paper.text({x, box.y, box.x + box.width - x, box.height},
                 fmt::format("and {} more", lines.size() - i), mark(Across::left));
      return;
    }
    if (line.dots) {
      paper.dot({x + 4, middle}, 0.8, line.shade);
    } else {
      const Spot both[] = {{x, middle}, {x + 6, middle}};
      paper.lines(both, 0.5, line.shade, line.dashed);
    }
    paper.text({x + 7, box.y, wide, box.height}, line.name, mark(Across::left));
    x += wide + 12;
  }
}

}  // namespace

void rescale(TimeChart& chart, double factor, double offset) {
  for (auto& line : chart.lines) {
    for (auto& sample : line.samples) {
      if (sample.value) *sample.value = *sample.value * factor + offset;
    }
  }
  for (auto& band : chart.bands) {
    band.low = band.low * factor + offset;
    band.high = band.high * factor + offset;
  }
}

void draw_time_chart(Paper& paper, const Box& box, const TimeChart& chart,
                     const sensors::TimeZone& zone) {
  draw_title(paper, box, chart.title);
  const Box inside{box.x + kLeft, box.y + kTitle, box.width - kLeft - 3,
                   box.height - kTitle - kBelow - kLegend};
  const auto range = range_of(chart);
  if (!range || chart.span.to <= chart.span.from) {
    paper.frame(inside, 0.2, kGrey);
    paper.text(inside, "nothing was observed",
               {.size_pt = 10, .across = Across::centre, .down = Down::middle, .shade = kGrey});
    return;
  }
  Plot plot(paper, inside, chart.span, *range);
  for (const ChartBand& band : chart.bands) plot.band(band);
  plot.marks(zone);
  const double middle = static_cast<double>(chart.lines.size() - 1) / 2;
  for (std::size_t i = 0; i < chart.lines.size(); ++i) {
    plot.line(chart.lines[i], (static_cast<double>(i) - middle) * kAside);
  }
  draw_legend(paper, {inside.x, box.y + box.height - kLegend, inside.width, kLegend}, chart.lines);
}

void draw_intervals(Paper& paper, const Box& box, const std::string& title,
                    std::span<const IntervalRow> rows) {
  draw_title(paper, box, title);
  if (rows.empty()) {
    paper.text({box.x, box.y + kTitle, box.width, 6}, "nothing to show yet",
               {.size_pt = 10, .shade = kGrey});
    return;
  }
  const double names = box.width * 0.34, details = box.width * 0.16;
  const Box scale{box.x + names, box.y + kTitle, box.width - names - details,
                  box.height - kTitle - kBelow};
  const auto x = [&](double share) { return scale.x + share * scale.width; };
  for (int mark_at = 0; mark_at <= 100; mark_at += 20) {
    const double at = x(mark_at / 100.0);
    paper.line({at, scale.y}, {at, scale.y + scale.height}, 0.12, kPale);
    paper.text({at - 8, scale.y + scale.height + 1, 16, 4}, fmt::format("{} %", mark_at),
               mark(Across::centre));
  }
  const double high = std::min(9.0, scale.height / static_cast<double>(rows.size()));
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const IntervalRow& row = rows[i];
    const double top = scale.y + static_cast<double>(i) * high, middle = top + high / 2;
    TextStyle style{.size_pt = 9, .smallest_pt = 4.5, .down = Down::middle};
    paper.text({box.x, top, names - 3, high}, row.name, style);
    style.across = Across::right;
    paper.text({scale.x + scale.width + 2, top, details - 2, high}, row.detail, style);
    paper.line({x(row.low), middle}, {x(row.high), middle}, 0.9, kLeaf);
    paper.dot({x(row.middle), middle}, 1.1, kBrick);
  }
}

void draw_days(Paper& paper, const Box& box, const std::string& title,
               std::span<const DayRow> rows) {
  draw_title(paper, box, title);
  std::optional<std::pair<sensors::Day, sensors::Day>> span;
  for (const DayRow& row : rows) {
    for (const DayBar& bar : row.bars) {
      if (!span) span = {bar.from, bar.to};
      span->first = std::min(span->first, bar.from);
      span->second = std::max(span->second, bar.to);
    }
  }
  if (!span) {
    paper.text({box.x, box.y + kTitle, box.width, 6}, "nothing is planned",
               {.size_pt = 10, .shade = kGrey});
    return;
  }
  const double names = box.width * 0.28;
  const Box scale{box.x + names, box.y + kTitle + 5, box.width - names, box.height - kTitle - 5};
  const double day = scale.width / static_cast<double>((span->second - span->first).count() + 1);
  const auto x = [&](sensors::Day at) {
    return scale.x + day * static_cast<double>((at - span->first).count());
  };
  const int step = std::max(1, static_cast<int>(std::ceil(16 / (7 * day)))) * 7;
  for (sensors::Day at = span->first; at <= span->second; at += sensors::Days{step}) {
    paper.line({x(at), scale.y}, {x(at), scale.y + scale.height}, 0.12, kPale);
    paper.text({x(at), box.y + kTitle, std::min(16.0, scale.x + scale.width - x(at)), 4.5},
               sensors::to_string(at).substr(5), mark(Across::left));
  }
  const double high = std::min(9.0, scale.height / static_cast<double>(rows.size()));
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const double top = scale.y + static_cast<double>(i) * high;
    paper.text({box.x, top, names - 3, high}, rows[i].name,
               {.size_pt = 9, .smallest_pt = 4.5, .down = Down::middle});
    for (const DayBar& bar : rows[i].bars) {
      const double from = x(bar.from), wide = x(bar.to) + day - from;
      paper.fill({from, top + high * 0.25, wide, high * 0.5}, bar.shade);
      const double room = scale.x + scale.width - from - wide - 1;
      if (room > 5) {
        paper.text({from + wide + 1, top, room, high}, bar.text,
                   {.size_pt = 7.5, .smallest_pt = 4, .down = Down::middle, .shade = kGrey});
      }
    }
  }
}

}  // namespace takehold::client
