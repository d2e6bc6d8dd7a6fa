// What lose and cull share: how many plants of what leave, checked against what stands.
#pragma once

#include <string>
#include <vector>

#include "client/command/command_tree.hpp"
#include "client/command/daemon_line.hpp"
#include "client/command/outcomes.hpp"

namespace takehold::client {

/// A checked departure: `count` plants of `subject`, a key that stands.
struct Departure {
  std::string subject;
  int count = 0;
  std::vector<int> plants;
};

/// "twice", "no-such-graft" unless each of `plants` stands once and is at most `highest`.
void check_plant_numbers(const std::string& subject, int highest, std::vector<int> plants);

Departure checked_departure(const Book& book, const std::string& subject, const Gone& gone);

/// Records it as a Loss or a Cull; `why` is the one's cause, or whether the other was given away;
/// `more` are the fields behind its note.
template <class Record, class Why, class... More>
Record record_departure(const Telling& telling, const Departure& departure,
                        const std::string& words, Why why, More... more) {
  Record record;
  telling.book.record(words, telling.now, [&](Recorder& r) {
    record = {r.next_number(Record::kKind),
              departure.subject,
              telling.at,
              departure.count,
              departure.plants,
              why,
              telling.note,
              more...};
    r.put(record);
  });
  return record;
}

/// What is typed for either.
struct TypedDeparture {
  std::string subject, note;
  std::optional<int> count;
  std::vector<int> plants;
  TypedWhen when;

  Gone gone() const { return {count, plants}; }
  /// Adds the argument and --count, --plants, --note, --on, --at.
  void add_to(CLI::App& app);
};

/// Tells the daemon and prints `line` and the record.
template <class Record>
void tell_departure(Context& context, const Telling& telling, const Record& record,
                    const std::string& line) {
  context.out.line(line);
  tell_daemon(context, telling.book);
  context.out.document(record_json(telling, record));
}

}  // namespace takehold::client
