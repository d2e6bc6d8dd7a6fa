#include "daemon/page/page.hpp"

#include <fmt/format.h>

#include "sensors/codec/markup.hpp"

namespace takehold::daemon {
namespace {

constexpr auto kHead = R"(<!doctype html>
<html lang="en"><head><meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="refresh" content="15">
<title>{0}</title>
<style>
body {{ font: 1.2rem/1.5 sans-serif; margin: 1rem; color: #111; background: #fff }}
h1 {{ font-size: 1.3rem }}
.now {{ font-size: 2.2rem; font-weight: bold }}
.wrong {{ border-left: .4rem solid #b00; padding-left: .6rem }}
th {{ text-align: left; padding-right: 1rem }}
@media (prefers-color-scheme: dark) {{ body {{ color: #eee; background: #111 }} }}
</style></head><body><h1>{0}</h1>
)";

std::string temperature_line(const StatusMessage& status) {
  if (!status.air.temperature) return "<p class=now>temperature not known</p>\n";
  std::string line = fmt::format("<p class=now>{:.1f} °C", status.air.temperature->degc());
  if (const auto& band = status.asks.temperature) {
    line +=
        fmt::format(" <small>should be {:g}–{:g} °C</small>", band->low.degc(), band->high.degc());
  }
  return line + "</p>\n";
}

std::string humidity_line(const StatusMessage& status) {
  if (!status.air.humidity) return "<p class=now>humidity not known</p>\n";
  std::string line = fmt::format("<p class=now>{:.1f} % humidity", status.air.humidity->pct());
  if (const auto& band = status.asks.humidity) {
    line +=
        fmt::format(" <small>should be {:.3g}–{:.3g} %</small>", band->low.pct(), band->high.pct());
  }
  return line + "</p>\n";
}

std::string warning_lines(const StatusMessage& status) {
  if (status.warnings.empty()) return "<p>No warning stands.</p>\n";
  std::string lines;
  for (const auto& warning : status.warnings) {
    lines += fmt::format("<p class=wrong><b>{}</b> {} <small>since {}</small></p>\n", warning.id,
                         sensors::markup_text(warning.text), sensors::to_string(warning.raised_at));
  }
  return lines;
}

std::string batch_lines(const StatusMessage& status) {
  if (status.occupants.empty()) return "<p>No batch stands in the chamber.</p>\n";
  std::string lines = "<table><tr><th>batch<th>stage<th>next</tr>\n";
  for (const auto& batch : status.occupants) {
    lines += fmt::format("<tr><td>{}<td>{}<td>{}</tr>\n", sensors::markup_text(batch.label),
                         sensors::markup_text(batch.stage),
                         batch.next ? sensors::to_string(*batch.next) : "");
  }
  return lines + "</table>\n";
}

}  // namespace

std::string page_of(const StatusMessage& status) {
  std::string page = fmt::format(kHead, sensors::markup_text(status.chamber));
  page += warning_lines(status);
  page += temperature_line(status);
  page += humidity_line(status);
  page += batch_lines(status);
  const auto at = status.air.at.value_or(status.at);
  page += fmt::format("<p><small>air as read at {}</small></p>\n</body></html>\n",
                      sensors::to_string(at));
  return page;
}

}  // namespace takehold::daemon
