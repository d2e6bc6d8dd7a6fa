#include "client/command/watch_screen.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "client/command/chamber_view.hpp"
#include "client/command/past_air.hpp"
#include "client/terminal/text_width.hpp"

namespace takehold::client {

namespace {

using Lines = std::vector<ScreenLine>;

constexpr int kLeastChart = 6;  ///< rows below which a chart tells nothing
constexpr int kMostChart = 22;  ///< rows above which it tells no more
constexpr int kWide = 120;      ///< columns from which two charts stand side by side

void append(Lines& lines, const Lines& more) {
  lines.insert(lines.end(), more.begin(), more.end());
}

/// What the daemon foresees: the earliest breach among its warnings.
ScreenLine forecast(const daemon::StatusMessage& status, const sensors::TimeZone& zone) {
  const daemon::WarningMessage* first = nullptr;
  for (const auto& warning : status.warnings) {
    if (!warning.breach_at || warning.cleared_at) continue;
    if (first == nullptr || *warning.breach_at < *first->breach_at) first = &warning;
  }
  if (first != nullptr) {
    return {fmt::format("forecast     {} leaves its band at {}", first->about,
                        zone.local_clock(*first->breach_at)),
            Ink::warn};
  }
  const bool asked = status.asks.temperature || status.asks.humidity || status.asks.vapour_deficit;
  if (!asked || !status.air.at) return {"forecast     none without air and a batch", Ink::faint};
  return {"forecast     nothing is on its way out", Ink::plain};
}

Lines side_by_side(const Lines& left, const Lines& right, int width) {
  Lines lines;
  for (std::size_t i = 0; i < std::max(left.size(), right.size()); ++i) {
    const std::string text = i < left.size() ? left[i].text : "";
    lines.push_back(
        {padded_right(text, width) + (i < right.size() ? right[i].text : ""), Ink::plain});
  }
  return lines;
}

/// As many charts as the room holds: humidity first, for grafts die of drought before of cold.
Lines charts(const PastAir& air, int columns, int room) {
  if (room < kLeastChart) return {};
  room = std::min(room, columns >= kWide ? kMostChart : 2 * kMostChart);
  if (columns >= kWide) {
    const int half = columns / 2 - 2;
    return side_by_side(humidity_chart(air, half, room), temperature_chart(air, half, room),
                        half + 4);
  }
  if (room < 2 * kLeastChart + 2) return humidity_chart(air, columns, room);
  Lines lines = humidity_chart(air, columns, room / 2);
  append(lines, temperature_chart(air, columns, room - room / 2));
  return lines;
}

ScreenLine keys(const WatchView& view) {
  if (!view.answer.empty()) return {view.answer, Ink::strong};
  return {fmt::format("q ends   s seen   k quiet 2 h   + - hours drawn ({})", view.span.count()),
          Ink::faint};
}

ScreenLine no_answer(const Watched& watched, const sensors::TimeZone& zone) {
  const std::string since =
      watched.trouble_since ? " since " + zone.local_clock(*watched.trouble_since) : "";
  return {"NO ANSWER from the chamber's program" + since +
              "; what stands below is old: " + watched.trouble,
          Ink::bad};
}

Lines upper_part(const Watched& watched, const ChamberParts& parts, const sensors::TimeZone& zone) {
  Lines lines{parts.head};
  append(lines, parts.warnings);
  lines.push_back({});
  append(lines, parts.air);
  lines.push_back(forecast(*watched.status, zone));
  lines.push_back({});
  append(lines, parts.batches);
  return lines;
}

}  // namespace

Lines watch_screen(const Watched& watched, const WatchView& view, sensors::Instant now,
                   const sensors::TimeZone& zone) {
  Lines lines, probes;
  if (watched.status) {
    const auto parts = chamber_parts(*watched.status, now, view.style, true);
    lines = upper_part(watched, parts, zone);
    probes = broken_to_width(parts.probes, view.columns);
  }
  if (!watched.trouble.empty()) lines.insert(lines.begin(), no_answer(watched, zone));
  lines = broken_to_width(lines, view.columns);
  const int room = view.rows - 1 - int(lines.size());
  if (room < int(probes.size())) probes.clear();
  if (watched.status && watched.past) {
    const PastAir air{*watched.status, *watched.past, zone, view.style};
    append(lines, charts(air, view.columns, room - int(probes.size())));
  }
  append(lines, probes);
  for (auto& line : lines) {  // without an answer nothing may look alive
    if (!watched.trouble.empty() && line.ink != Ink::bad) line.ink = Ink::faint;
  }
  if (int(lines.size()) >= view.rows) {
    lines.resize(std::size_t(std::max(1, view.rows - 2)));
    lines.push_back({"the window is too small for the rest", Ink::faint});
  }
  lines.resize(std::size_t(std::max(1, view.rows - 1)));
  lines.push_back(keys(view));
  return lines;
}

}  // namespace takehold::client
