// `takehold today` and `takehold done`: the front door.
#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <nlohmann/json.hpp>

#include "client/command/chamber_view.hpp"
#include "client/command/changes.hpp"
#include "client/command/command_tree.hpp"
#include "client/command/daemon_line.hpp"
#include "client/command/opened_book.hpp"
#include "client/command/session.hpp"
#include "client/command/tasks.hpp"
#include "client/command/today_forecast.hpp"
#include "client/terminal/days.hpp"
#include "client/terminal/table.hpp"
#include "client/terminal/text_width.hpp"

namespace takehold::client {
namespace {

void print_next(const Book& book, sensors::Day today, Output& out) {
  for (const Task& task : planned_tasks(book)) {
    if (task.on <= today) continue;
    const auto days = (task.on - today).count();
    const auto when = shown_with_weekday(task.on, out.style().dates);
    out.line(
        wrapped(fmt::format("Next: {} (in {}): {}", when, counted(days, "day", "days"), task.text),
                out.style().width));
    return;
  }
}

void print_task(const Task& task, sensors::Day day, Output& out) {
  const std::string late =
      task.on < day ? " (since " + shown_with_weekday(task.on, out.style().dates) + ")" : "";
  const std::string head = padded_left(std::to_string(task.line), 3) + "  ";
  std::string text = wrapped(task.text + late, out.style().width, "     ");
  text.replace(0, head.size(), head);
  out.line(text);
  out.line("       " + inked(command_text(task), Ink::faint, out.style()));
}

/// Late things under a heading of their own, then what is due.
void print_tasks(const std::vector<Task>& tasks, sensors::Day day, Output& out) {
  const char* heading = "";
  for (const Task& task : tasks) {
    const char* under = task.on < day ? "Late" : "To do";
    if (std::string_view(under) != heading) out.line(inked(under, Ink::strong, out.style()));
    heading = under;
    print_task(task, day, out);
  }
  if (!tasks.empty()) out.line("`takehold done LINE` records a line as it stands there.");
}

/// The chamber's first line and what it warns of, when batches stand in it. Null: none does, or
/// nobody answers, which is said.
nlohmann::json show_chamber(Context& context, const Book& book) {
  const auto batches = book.all<Batch>();
  const bool any = std::any_of(batches.begin(), batches.end(),
                               [&](const Batch& batch) { return !book.left_chamber(batch.id); });
  if (!any) return nullptr;
  const auto document = daemon_link(context).status();
  const auto status = document ? daemon::status_message_from(*document)
                               : sensors::Result<daemon::StatusMessage>(document.error());
  if (!status) {
    context.out.line("The chamber's program does not answer: nobody watches the batches in it.");
    return nullptr;
  }
  const TerminalStyle& style = context.out.style();
  for (const ScreenLine& line :
       broken_to_width(chamber_brief(*status, context.units), style.width)) {
    context.out.line(inked(line.text, line.ink, style));
  }
  return *document;
}

nlohmann::json show_changes(Context& context, const Book& book) {
  nlohmann::json list = nlohmann::json::array();
  const auto changes = changes_since(book, context.now - sensors::Days(1), context.now);
  const TerminalStyle& style = context.out.style();
  if (!changes.empty()) context.out.line(inked("Since yesterday", Ink::strong, style));
  for (const Change& change : changes) {
    context.out.line(wrapped(fmt::format("{}: {} ({})", change.about, change.text, change.why),
                             style.width, "  "));
    list.push_back(to_json(change));
  }
  return list;
}

void today(Context& context) {
  const Book book = open_book(context, BookUse::reading);
  const auto tasks = tasks_at(book, context.now);
  const sensors::Day day = book.time_zone().day_of(context.now);
  Output& out = context.out;
  out.line(shown_with_weekday(day, out.style().dates) + (tasks.empty() ? ": nothing to do" : ""));
  nlohmann::json chamber = show_chamber(context, book);
  print_tasks(tasks, day, out);
  nlohmann::json forecast = show_forecast(context, book);
  nlohmann::json changes = show_changes(context, book);
  print_next(book, day, out);
  nlohmann::json list = nlohmann::json::array();
  for (const Task& task : tasks) list.push_back(to_json(task));
  out.document({{"on", sensors::to_string(day)},
                {"tasks", std::move(list)},
                {"forecast", std::move(forecast)},
                {"changed", std::move(changes)},
                {"chamber", std::move(chamber)}});
}

struct DoneWords {
  int line = 0;
  std::optional<int> count;
  TypedWhen when;
};

/// At a terminal what is missing is asked for: a count here, stems by `measure` itself.
void ask_for_count(Context& context, Task& task, DoneWords& words) {
  if (!task.wanted || !is_dialogue(context)) return;
  if (!task.count_word) {
    task.wanted.reset();
  } else if (!words.count) {
    const std::string answer = Dialogue(context).ask(task.about + ": " + *task.wanted + "? ");
    int count = 0;
    const auto [end, error] = std::from_chars(answer.data(), answer.data() + answer.size(), count);
    if (error == std::errc() && end == answer.data() + answer.size()) words.count = count;
  }
}

void with_count(Task& task, const DoneWords& words) {
  if (words.count && !task.count_word) {
    throw sensors::Refused({"no-count", "this line takes no count", "",
                            fmt::format("line {}", task.line), command_text(task)});
  }
  if (words.count) task.command[*task.count_word] = std::to_string(*words.count);
  if (!task.wanted || (task.count_word && words.count)) return;
  const std::string hint = task.count_word ? fmt::format("takehold done {} N", task.line) : "";
  throw sensors::Refused(
      {"more-to-say", "say " + *task.wanted, "", fmt::format("line {}", task.line), hint});
}

void done(Context& context, DoneWords words) {
  Task task;
  {  // the book is closed again before the other command opens it
    const Book book = open_book(context, BookUse::reading);
    const auto tasks = tasks_at(book, context.now);
    if (words.line < 1 || words.line > static_cast<int>(tasks.size())) {
      throw sensors::Refused({"no-such-line", fmt::format("today has no line {}", words.line), "",
                              "LINE", "see takehold today"});
    }
    task = tasks[static_cast<std::size_t>(words.line) - 1];
  }
  ask_for_count(context, task, words);
  with_count(task, words);
  if (words.when.on) task.command.insert(task.command.end(), {"--on", *words.when.on});
  if (words.when.at) task.command.insert(task.command.end(), {"--at", *words.when.at});
  context.out.line(inked(command_text(task), Ink::faint, context.out.style()));
  context.run_instead(task.command);
}

}  // namespace

void add_today(CommandTree& tree) {
  CLI::App& app = tree.command(
      "today", {kDaily, "what there is to do today, each with the command it stands for",
                "Late things stand first. A line is done with `takehold done` and its number, or\n"
                "with the command under it, changed to what really was.",
                "today\ndone 1\ndone 2 17"});
  tree.action(app, [](Context& context) { today(context); });
}

void add_done(CommandTree& tree) {
  CLI::App& app =
      tree.command("done", {kDaily, "records a line of today as it stands there",
                            "The line's own command is run; COUNT takes the place of its count.",
                            "done 1\ndone 2 17\ndone 1 --on 2027-04-11"});
  const auto words = std::make_shared<DoneWords>();
  app.add_option("LINE", words->line, "its number in `takehold today`")->required();
  app.add_option("COUNT", words->count, "how many it really were");
  add_when(app, words->when);
  tree.action(app, [words](Context& context) { done(context, *words); });
}

}  // namespace takehold::client
