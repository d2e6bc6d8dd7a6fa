// The list of recording commands, what each wrote, and the counters.
#include <SQLiteCpp/Database.h>
#include <SQLiteCpp/Statement.h>
#include <sqlite3.h>

#include <map>

#include "client/book/inside.hpp"

namespace takehold::client {
namespace {

// An undo that was itself undone counts for nothing, so the newest decide about the older ones.
void mark_undone(std::vector<CommandLine>& lines) {
  std::map<CommandId, CommandLine*> by_id;
  for (CommandLine& line : lines) by_id[line.id] = &line;
  for (auto line = lines.rbegin(); line != lines.rend(); ++line)
    if (line->undoes && !line->undone) by_id.at(*line->undoes)->undone = true;
}

}  // namespace

FileState file_state(SQLite::Database& database) {
  return {database.getTotalChanges(), database.execAndGet("PRAGMA data_version").getInt64(),
          sqlite3_get_autocommit(database.getHandle()) == 0};
}

CommandId begin_command(SQLite::Database& database, std::string_view words, sensors::Instant now,
                        std::optional<CommandId> undoes) {
  SQLite::Statement statement(
      database, "INSERT INTO command (entered_at, words, undoes) VALUES (?, ?, ?) RETURNING id");
  statement.bind(1, sensors::to_string(now));
  statement.bind(2, std::string(words));
  if (undoes) statement.bind(3, *undoes);
  statement.executeStep();
  return statement.getColumn(0).getInt64();
}

void write_touches(SQLite::Database& database, CommandId command, std::span<const NounRef> nouns) {
  SQLite::Statement statement(database,
                              "INSERT INTO touch (command, kind, key, place) VALUES (?, ?, ?, ?)");
  int place = 0;
  for (const NounRef& noun : nouns) {
    statement.reset();
    statement.bind(1, command);
    statement.bind(2, std::string(kind_name(noun.kind)));
    statement.bind(3, noun.key);
    statement.bind(4, place++);
    statement.exec();
  }
}

std::vector<CommandLine> command_lines(SQLite::Database& database) {
  std::vector<CommandLine> lines;
  SQLite::Statement commands(database,
                             "SELECT id, entered_at, words, undoes FROM command ORDER BY id");
  std::map<CommandId, std::size_t> index;
  while (commands.executeStep()) {
    CommandLine line;
    line.id = commands.getColumn(0).getInt64();
    line.entered_at = sensors::parse_instant(commands.getColumn(1).getString()).value();
    line.words = commands.getColumn(2).getString();
    if (!commands.getColumn(3).isNull()) line.undoes = commands.getColumn(3).getInt64();
    index[line.id] = lines.size();
    lines.push_back(std::move(line));
  }
  SQLite::Statement touches(database,
                            "SELECT command, kind, key FROM touch ORDER BY command, place");
  while (touches.executeStep())
    lines[index.at(touches.getColumn(0).getInt64())].wrote.push_back(
        {kind_of_name(touches.getColumn(1).getString()).value(), touches.getColumn(2).getString()});
  mark_undone(lines);
  return lines;
}

void count_at_least(SQLite::Database& database, const std::string& counter, std::int64_t number) {
  SQLite::Statement statement(database,
                              "INSERT INTO counter (name, last) VALUES (?, ?) ON CONFLICT (name)"
                              " DO UPDATE SET last = max(last, excluded.last)");
  statement.bind(1, counter);
  statement.bind(2, number);
  statement.exec();
}

std::int64_t count_up(SQLite::Database& database, const std::string& counter) {
  SQLite::Statement statement(database,
                              "INSERT INTO counter (name, last) VALUES (?, 1)"
                              " ON CONFLICT (name) DO UPDATE SET last = last + 1 RETURNING last");
  statement.bind(1, counter);
  statement.executeStep();
  return statement.getColumn(0).getInt64();
}

}  // namespace takehold::client
