#include "daemon/page/page.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "daemon/page/page_files.hpp"
#include "sensors/codec/markup.hpp"

namespace takehold::daemon {

using sensors::Instant;
using sensors::markup_text;

namespace {

constexpr auto kFrame = R"(<!doctype html>
<html lang="en"><head><meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>{title}</title>
<link rel="icon" href="data:,">
<noscript><meta http-equiv="refresh" content="30"></noscript>
<style>{style}</style></head><body>
<p id="line" role="status"></p>
<main id="now">
{main}</main>
<noscript><p><small>Without scripts this page renews itself every half minute; warnings are answered with <code>takehold seen</code>.</small></p></noscript>
<script>{script}</script></body></html>
)";

/// "3 d 4 h", "2 h 10 min", "5 min": to the precision that is needed.
std::string length_of(std::chrono::milliseconds length) {
  const auto minutes = std::max<std::int64_t>(0, length.count() / 60000);
  if (minutes >= 1440) return fmt::format("{} d {} h", minutes / 1440, minutes % 1440 / 60);
  if (minutes >= 60) return fmt::format("{} h {} min", minutes / 60, minutes % 60);
  return fmt::format("{} min", minutes);
}

std::string warning(const WarningMessage& message, const PageContent& content) {
  const auto& clock = content.zone;
  std::string text = fmt::format(
      R"(<div class="warning{}"><p><strong>{}</strong> {}</p><p><small>since {}{}{}</small></p>)",
      message.acknowledged_at ? " seen" : "", message.id, markup_text(message.text),
      clock.local_text(message.raised_at),
      message.acknowledged_at ? ", seen " + clock.local_clock(*message.acknowledged_at) : "",
      message.shelved_until ? ", quiet until " + clock.local_text(*message.shelved_until) : "");
  const auto button = [&](const char* action, const char* more, const char* words) {
    text +=
        fmt::format(R"(<button hidden id="{0}-{1}" data-to="/v1/warnings/{0}/{1}"{2}>{3}</button>)",
                    message.id, action, more, words);
  };
  if (!message.acknowledged_at) button("acknowledge", "", "I have seen it");
  if (!message.shelved_until) button("shelve", R"( data-hours="2")", "Quiet for 2 hours");
  return text + R"(<p class="hint"></p></div>)" + "\n";
}

std::string warnings(const PageContent& content) {
  std::string text;
  for (const auto& one : content.status.warnings) text += warning(one, content);
  return text;
}

std::string batches(const PageContent& content) {
  const auto& status = content.status;
  std::string rows, tasks;
  for (const auto& batch : status.occupants) {
    if (batch.left_at) continue;
    const std::string next = batch.kept   ? "move it to the bench"
                             : batch.next ? length_of(*batch.next - status.at) + " to go, until " +
                                                content.zone.local_text(*batch.next)
                                          : "";
    rows += fmt::format("<tr><td>{}<br><small>{}{}</small><td>{}<td>{}</tr>\n",
                        markup_text(batch.label), markup_text(batch.pairing),
                        batch.count ? fmt::format(", {}", *batch.count) : "",
                        markup_text(batch.stage), next);
    for (const auto& task : batch.asks.tasks) {
      tasks += fmt::format("<li>{}: {}</li>\n", markup_text(batch.label), markup_text(task));
    }
  }
  if (rows.empty()) return "<h2>Batches</h2>\n<p>No batch stands in the chamber.</p>\n";
  return "<h2>Batches</h2>\n<table><tr><th>batch<th>stage<th>next</tr>\n" + rows + "</table>\n" +
         (tasks.empty() ? "" : "<h2>To do in these stages</h2>\n<ul>\n" + tasks + "</ul>\n");
}

std::string probes(const PageContent& content) {
  std::string rows;
  for (const auto& probe : content.status.probes) {
    rows += fmt::format("<tr><td>{}<td>{}<td>{}</tr>\n", markup_text(probe.name),
                        markup_text(probe.place), probe_words(probe, content.units, content.zone));
  }
  return "<h2>Probes</h2>\n<table><tr><th>probe<th>place<th>last reading</tr>\n" + rows +
         "</table>\n";
}

std::string figure(const PageSeries& series, const std::string& title, const std::string& unit,
                   const sensors::TimeZone& zone) {
  const auto chart = svg_chart(series, title, unit, zone);
  if (chart.empty()) return "";
  return fmt::format("<figure><figcaption>{}</figcaption>{}</figure>\n", markup_text(title), chart);
}

std::string charts(const PageContent& content) {
  return "<h2>The last hours</h2>\n" +
         figure(content.temperature, "Temperature, with what the batches ask for",
                std::string(" ") + degree_name(content.units), content.zone) +
         figure(content.humidity, "Humidity, with what the batches ask for", " %", content.zone);
}

}  // namespace

std::string page_of(const PageContent& content) {
  const auto& status = content.status;
  const auto verdict = verdict_of(status, content.units);
  std::string main = fmt::format("<h1>{}</h1>\n<p class=\"verdict {}\">{}</p>\n",
                                 markup_text(status.chamber), verdict.style, verdict.words);
  main += warnings(content);
  main += air_now(status, content.units);
  main += fmt::format("<p><small>{}</small></p>\n",
                      status.air.at ? "air as read at " + content.zone.local_text(*status.air.at)
                                    : "no trusted reading yet");
  main += charts(content) + batches(content) + probes(content);
  return fmt::format(kFrame, fmt::arg("title", markup_text(title_of(status, content.units))),
                     fmt::arg("style", page_style()), fmt::arg("main", main),
                     fmt::arg("script", page_script()));
}

}  // namespace takehold::daemon
