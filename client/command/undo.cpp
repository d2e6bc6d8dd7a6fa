// `takehold undo`: takes back the last recording command whole, by appending.
#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>

#include "client/command/command_tree.hpp"
#include "client/command/daemon_line.hpp"
#include "client/command/recording.hpp"
#include "client/terminal/days.hpp"
#include "client/terminal/table.hpp"

namespace takehold::client {
namespace {

using nlohmann::json;

constexpr std::size_t kShownCommands = 20;

json to_json(const CommandLine& command) {
  json document{{"id", command.id},         {"entered_at", sensors::to_string(command.entered_at)},
                {"command", command.words}, {"undoes", nullptr},
                {"undone", command.undone}, {"wrote", nouns_json(command.wrote)}};
  if (command.undoes) document["undoes"] = *command.undoes;
  return document;
}

/// "sowing S3, planned graft R30 and 7 more": few of a kind by name, more of them counted.
std::string keys_text(const std::vector<NounRef>& nouns) {
  constexpr int kNamed = 3;
  std::map<Kind, int> count, told;
  for (const NounRef& noun : nouns) ++count[noun.kind];
  std::string text;
  for (const NounRef& noun : nouns) {
    const int all = count[noun.kind];
    if (++told[noun.kind] > (all > kNamed ? 1 : kNamed)) continue;
    std::string kind(kind_name(noun.kind));
    std::replace(kind.begin(), kind.end(), '_', ' ');
    text += fmt::format("{}{} {}", text.empty() ? "" : ", ", kind, noun.key);
    if (all > kNamed) text += fmt::format(" and {} more", all - 1);
  }
  return text;
}

void list_commands(Context& context) {
  const Book book = open_book(context, BookUse::reading);
  const auto commands = book.commands();
  Table table({{"number", Align::right}, {"entered"}, {"command"}, {""}, {"wrote"}});
  json list = json::array();
  for (std::size_t i = 0; i < commands.size(); ++i) {
    const CommandLine& command = commands[i];
    list.push_back(to_json(command));
    if (i >= kShownCommands) continue;
    table.add({std::to_string(command.id),
               shown(command.entered_at, book.time_zone(), context.out.style().dates),
               command.words, command.undone ? "undone" : "", keys_text(command.wrote)});
  }
  context.out.text(commands.empty() ? "Nothing has been recorded yet.\n"
                                    : table.text(context.out.style()));
  if (commands.size() > kShownCommands) {
    context.out.line(fmt::format("and {} older", commands.size() - kShownCommands));
  }
  context.out.document({{"commands", std::move(list)}});
}

void undo(Context& context, std::optional<CommandId> command) {
  Book book = open_book(context, BookUse::reading);
  const Undone undone = book.undo(context.now, command);
  context.out.line(
      fmt::format("Taken back: {} (entered {})", undone.command.words,
                  shown(undone.command.entered_at, book.time_zone(), context.out.style().dates)));
  if (!undone.nouns.empty()) context.out.line("It changed " + keys_text(undone.nouns) + ".");
  context.out.line("Once more `takehold undo` brings it back.");
  tell_daemon(context, book);
  context.out.document({{"undo", undone.undo},
                        {"undone", to_json(undone.command)},
                        {"changed", nouns_json(undone.nouns)}});
}

struct Typed {
  bool list = false;
  std::optional<CommandId> command;
};

}  // namespace

void add_undo(CommandTree& tree) {
  CLI::App& app = tree.command(
      "undo",
      {kBook, "takes back the last thing recorded, whole",
       "Nothing is erased: the book goes on, and says that it was taken back. It is refused\n"
       "while later records stand on it, and names them. Undoing an undo restores.",
       "undo\nundo --list"});
  const auto typed = std::make_shared<Typed>();
  auto* list = app.add_flag("--list", typed->list, "what was recorded, newest first");
  app.add_option("NUMBER", typed->command, "another command than the last, by its number in --list")
      ->excludes(list);
  tree.action(app, [typed](Context& context) {
    typed->list ? list_commands(context) : undo(context, typed->command);
  });
}

}  // namespace takehold::client
