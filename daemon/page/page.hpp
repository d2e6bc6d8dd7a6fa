// The chamber page for a phone: what is it now, is that right, what is next, how it went. One file
// without outside requests; a script keeps it fresh, and without it the page still tells
// everything.
#pragma once

#include <string>

#include "daemon/api/status_message.hpp"
#include "daemon/page/page_air.hpp"
#include "daemon/page/svg_chart.hpp"

namespace takehold::daemon {

struct PageContent {
  StatusMessage status;
  PageSeries temperature;  ///< in `units`
  PageSeries humidity;     ///< percent
  sensors::TimeZone zone;  ///< of the clock times shown
  ShownUnits units = ShownUnits::metric;
};

std::string page_of(const PageContent& content);

/// The Content-Security-Policy under which the page works: its own style and script by their hash,
/// its own server, nothing else.
const std::string& page_policy();

}  // namespace takehold::daemon
