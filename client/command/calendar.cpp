// `takehold calendar`: the season by its days, on the screen or as a calendar file.
#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "client/command/calendar_lines.hpp"
#include "client/command/command_tree.hpp"
#include "client/command/opened_book.hpp"
#include "client/command/text_file.hpp"
#include "client/terminal/days.hpp"
#include "client/terminal/numbers.hpp"
#include "client/terminal/table.hpp"

namespace takehold::client {
namespace {

using nlohmann::json;

json to_json(const CalendarLine& line) {
  return {{"on", sensors::to_string(line.event.on)},
          {"what", line.what},
          {"about", line.about},
          {"text", line.event.summary}};
}

void write_ics(Context& context, const std::string& file, const std::vector<CalendarLine>& lines,
               const Book& book) {
  std::vector<DayEvent> events;
  for (const CalendarLine& line : lines) events.push_back(line.event);
  const auto standing = static_cast<long long>(events.size());
  for (DayEvent& event : cancelled_of(book, lines)) events.push_back(std::move(event));
  const auto season = book.find<Season>("season");
  write_text_file(file,
                  ics_text(events, "Grafting " + (season ? season->season : ""), context.now));
  context.out.line(
      fmt::format("{}: {}. Import it again after changes: the same days are known "
                  "again.",
                  file, counted(standing, "day", "days")));
}

void calendar(Context& context, const std::optional<std::string>& ics) {
  const Book book = open_book(context, BookUse::reading);
  const auto lines = calendar_of(book);
  const sensors::Day today = book.time_zone().day_of(context.now);
  json list = json::array();
  Table table({{"on"}, {"what"}, {""}});
  for (const CalendarLine& line : lines) {
    list.push_back(to_json(line));
    const auto& on = line.event.on;
    table.add({shown_with_weekday(on, context.out.style().dates), line.event.summary,
               on < today    ? "past"
               : on == today ? "today"
                             : ""});
  }
  if (ics) {
    write_ics(context, *ics, lines, book);
  } else {
    context.out.text(lines.empty() ? "Nothing is planned yet: takehold plan --accept\n"
                                   : table.text(context.out.style()));
  }
  context.out.document({{"events", std::move(list)}, {"file", ics ? json(*ics) : json()}});
}

}  // namespace

void add_calendar(CommandTree& tree) {
  CLI::App& app = tree.command(
      "calendar",
      {kDaily, "the season by its days; --ics: as a file for any calendar",
       "Sowings of the accepted plan, pricking out, days to measure, grafts, each stage with\n"
       "its tasks, the day the plants shall be ready. Events ring at 7:00.",
       "calendar\ncalendar --ics grafting.ics"});
  const auto ics = std::make_shared<std::optional<std::string>>();
  app.add_option("--ics", *ics, "the file to write (one that is there is replaced)");
  tree.action(app, [ics](Context& context) { calendar(context, *ics); });
}

}  // namespace takehold::client
