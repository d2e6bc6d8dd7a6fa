// A line over time inside a page: SVG without a script, dressed by the page's style sheet.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "sensors/quantity/time_zone.hpp"
#include "sensors/trace/band.hpp"

namespace takehold::daemon {

/// One quantity, in the unit that is shown. Buckets and bands in order of time.
struct PageSeries {
  sensors::TimeSpan span{};
  std::vector<sensors::Bucket> buckets{};
  std::vector<sensors::BandSpan> bands{};
};

/// The mean as a line, lowest to highest as a veil behind it, what was allowed as a field; gaps
/// stay open. Marks at the left with `unit`, times of the wall clock below. `title` is read aloud.
/// Without a single value: empty.
std::string svg_chart(const PageSeries& series, const std::string& title, const std::string& unit,
                      const sensors::TimeZone& zone);

/// Where `value` stands in and beside its band: a bar with a mark.
std::string svg_gauge(double value, const sensors::ValueRange& allowed);

}  // namespace takehold::daemon
