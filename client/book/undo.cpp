// Taking a command back by appending.
//
// The nouns that the command wrote get a version again that says what stood before it. That is
// sound as long as nothing later that still counts wrote the same nouns. A later command counts
// unless a later undo took it back; a later undo counts unless it took back a later command (then
// the two cancel). Last, the book must hold together: nothing that stands may name what does not.
#include <algorithm>
#include <set>

#include "client/book/inside.hpp"

namespace takehold::client {
namespace {

using sensors::Problem;
using sensors::Refused;

/// What the daemon said of a batch is fetched and not told by the grower: plain `undo` passes it.
bool is_fetched(const CommandLine& line) {
  return !line.wrote.empty() &&
         std::all_of(line.wrote.begin(), line.wrote.end(),
                     [](const NounRef& noun) { return noun.kind == Kind::exposure; });
}

const CommandLine& last_told(const std::vector<CommandLine>& lines) {
  const auto last = std::find_if_not(lines.rbegin(), lines.rend(), is_fetched);
  if (last == lines.rend())
    throw Refused({"nothing-to-undo", "the book has no records yet", "", "", ""});
  return *last;
}

const CommandLine& chosen(const std::vector<CommandLine>& lines, std::optional<CommandId> command) {
  if (!command) return last_told(lines);
  const auto found = std::find_if(lines.begin(), lines.end(),
                                  [&](const CommandLine& line) { return line.id == *command; });
  if (found == lines.end())
    throw Refused({"no-such-command", "there is no command " + std::to_string(*command), "", "",
                   "undo --list shows them"});
  return *found;
}

void refuse_undone(const std::vector<CommandLine>& lines, const CommandLine& target) {
  if (!target.undone) return;
  for (const CommandLine& line : lines)
    if (line.undoes == target.id && !line.undone)
      throw Refused(
          {"already-undone",
           "command " + std::to_string(target.id) + " (" + target.words + ") is undone already", "",
           "", "to restore it: undo " + std::to_string(line.id)});
}

std::string told(const CommandLine& line, const NounRef& noun) {
  return std::to_string(line.id) + " \"" + line.words + "\" (" + std::string(kind_name(noun.kind)) +
         " " + noun.key + ")";
}

[[noreturn]] void refuse(const CommandLine& target, const std::vector<std::string>& later) {
  std::string list;
  for (const std::string& one : later) list += (list.empty() ? "" : "; ") + one;
  throw Refused(
      {"stands-on-it",
       "later records stand on command " + std::to_string(target.id) + " \"" + target.words + "\"",
       list, "", "undo those first, the newest first"});
}

bool counts_after(const CommandLine& line, CommandId target) {
  return line.id > target && !line.undone && !(line.undoes && *line.undoes > target);
}

void refuse_overwritten(const std::vector<CommandLine>& lines, const CommandLine& target) {
  const std::set<NounRef> wrote(target.wrote.begin(), target.wrote.end());
  std::vector<std::string> later;
  for (const CommandLine& line : lines) {
    if (!counts_after(line, target.id)) continue;
    const auto both = std::find_if(line.wrote.begin(), line.wrote.end(),
                                   [&](const NounRef& noun) { return wrote.contains(noun); });
    if (both != line.wrote.end()) later.push_back(told(line, *both));
  }
  if (!later.empty()) refuse(target, later);
}

void put_back(const Tables& tables, const CommandLine& target, CommandId undo) {
  for (const NounRef& noun : target.wrote) {
    const auto before = tables.before(noun.kind, noun.key, target.id);
    if (before) {
      tables.append(noun.kind, noun.key, undo, before->gone, before->fields);
    } else {
      const auto versions = tables.history(noun.kind, noun.key);
      tables.append(noun.kind, noun.key, undo, true, versions.back().fields);
    }
  }
}

const CommandLine& last_writer(const std::vector<CommandLine>& lines, const NounRef& noun) {
  const CommandLine* last = &lines.front();
  for (const CommandLine& line : lines)
    if (std::find(line.wrote.begin(), line.wrote.end(), noun) != line.wrote.end()) last = &line;
  return *last;
}

void refuse_loose_ends(const Tables& tables, const std::vector<CommandLine>& lines,
                       const CommandLine& target) {
  std::set<std::string> later;
  for (const NounRef& noun : target.wrote) {
    const auto stands = tables.find(noun.kind, noun.key);
    if (stands) {
      for (const NounRef& lost : tables.missing_references(noun.kind, stands->fields))
        later.insert(told(last_writer(lines, lost), lost));
    } else {
      for (const NounRef& user : tables.referrers(noun.kind, noun.key))
        later.insert(told(last_writer(lines, user), user));
    }
  }
  if (!later.empty()) refuse(target, {later.begin(), later.end()});
}

}  // namespace

Undone undo_command(SQLite::Database& database, const Tables& tables, sensors::Instant now,
                    std::optional<CommandId> command) {
  const auto lines = command_lines(database);
  const CommandLine& target = chosen(lines, command);
  refuse_undone(lines, target);
  refuse_overwritten(lines, target);
  const CommandId undo =
      begin_command(database, "undo " + std::to_string(target.id), now, target.id);
  put_back(tables, target, undo);
  refuse_loose_ends(tables, lines, target);
  write_touches(database, undo, target.wrote);
  return {undo, target, target.wrote};
}

}  // namespace takehold::client
