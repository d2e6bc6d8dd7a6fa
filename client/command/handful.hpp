// What thin and prick share: some of the seedlings that stand, handled and recorded.
#pragma once

#include <fmt/format.h>

#include <memory>
#include <string>

#include "client/command/command_tree.hpp"
#include "client/command/seedlings.hpp"
#include "client/command/standing.hpp"

namespace takehold::client {

/// Which command it is, and how its refusals call what is done: "taken out", "take out".
struct Handful {
  const char* command;
  const char* done;
  const char* to_do;
};

/// Records a Thinning or a Pricking of `count` of the sowing's seedlings. "bad-count";
/// "more-than-stand".
template <class Record>
Record record_handful(const Telling& telling, const std::string& typed_sowing, int count,
                      const Handful& what) {
  const Sowing sowing = find_numbered<Sowing>(telling.book, typed_sowing);
  if (count < 1) refuse("bad-count", fmt::format("at least one is {}", what.done), "COUNT");
  const int standing = state_of(telling.book, sowing).standing.value_or(sowing.seeds);
  if (count > standing) {
    refuse("more-than-stand", fmt::format("{} to {}, {} stand", count, what.to_do, standing),
           sowing.id);
  }
  Record record;
  telling.book.record(
      fmt::format("{} {} {}", what.command, sowing.id, count), telling.now, [&](Recorder& r) {
        record = {r.next_number(Record::kKind), sowing.id, telling.at, count, telling.note};
        r.put(record);
      });
  return record;
}

/// What is typed for either.
struct TypedHandful {
  std::string sowing, note;
  int count = 0;
  TypedWhen when;
};

/// Adds the sowing, the count under the name `count`, --note, --on and --at, and what is done:
/// `record` (a function like thin), printed with the line that `text` makes of its record.
template <class RecordIt, class Text>
void add_handful(CommandTree& tree, CLI::App& app, const char* count, const char* help,
                 RecordIt record, Text text) {
  const auto words = std::make_shared<TypedHandful>();
  app.add_option("sowing", words->sowing, "the sowing, as S1")->required();
  app.add_option(count, words->count, help)->required();
  app.add_option("--note", words->note, "a word to remember");
  add_when(app, words->when);
  tree.action(app, [words, record, text](Context& context) {
    Book book = open_book(context, BookUse::recording);
    const Telling telling = telling_of(context, book, words->when, words->note);
    const auto told = record(telling, words->sowing, words->count);
    context.out.line(text(told));
    context.out.document(record_json(telling, told));
  });
}

}  // namespace takehold::client
