// The grower's book: every record ever told, in one SQLite file, appended and never overwritten.
//
// The book owns its file and one connection to it; one thread at a time may use it, any number of
// processes may have it open (rollback journal, short transactions). Each recording command is one
// transaction and one undo. What record() returned from is on the disk.
//
//   Book book = Book::open(path, now);
//   book.record("sow QP-24", now, [&](Recorder& r) {
//     sowing.id = r.next_number(Kind::sowing);
//     r.put(sowing);
//   });
//   for (const Sowing& s : book.all<Sowing>()) ...
#pragma once

#include <filesystem>
#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "client/book/plain_noun.hpp"
#include "client/book/record.hpp"
#include "client/book/snapshot.hpp"
#include "client/book/tables.hpp"
#include "client/season/notice.hpp"
#include "sensors/quantity/temperature.hpp"
#include "sensors/quantity/time_zone.hpp"

namespace takehold::client {

class Recorder;

/// Mean temperatures that a bench's probe logged, by the hour since 1970-01-01T00:00:00Z.
using BenchHours = std::map<std::int64_t, sensors::Celsius>;

struct BookOptions {
  std::optional<std::string> time_zone{};  ///< for a book that is made now; left out: the machine's
  bool must_exist = false;                 ///< refuse (code "no-file") rather than make one
};

/// What an undo did.
struct Undone {
  CommandId undo = 0;            ///< the command that was appended
  CommandLine command{};         ///< what it took back
  std::vector<NounRef> nouns{};  ///< that stand differently now
};

class Book {
 public:
  /// Opens or makes the book. Throws Refused, the file untouched, as Store::open; also
  /// "unknown-time-zone".
  static Book open(const std::filesystem::path& path, sensors::Instant now,
                   const BookOptions& options = {});
  Book(Book&&) noexcept;
  Book& operator=(Book&&) noexcept;
  ~Book();

  const std::filesystem::path& path() const;
  const std::string& uuid() const;
  /// The one time zone in which this book's days are meant.
  const sensors::TimeZone& time_zone() const;

  /// Everything of a kind that stands now, in the order first recorded.
  template <class T>
  Snapshot<T> all() const;
  template <class T>
  Snapshot<Recorded<T>> records() const;
  template <class T>
  std::optional<T> find(std::string_view key) const;
  /// Every version of one key, oldest first; empty for a key never used.
  template <class T>
  std::vector<Version<T>> history(std::string_view key) const;

  /// One command: `work` puts and drops through the Recorder, then all of it is committed. None if
  /// nothing changed. If `work` throws, nothing is recorded. `words`: the command as typed.
  std::optional<CommandId> record(std::string_view words, sensors::Instant now,
                                  const std::function<void(Recorder&)>& work);

  /// Takes back one command whole by appending; left out: the last one, be it an undo (so that
  /// twice is as before), but none that only kept what the daemon said of a batch. Throws Refused:
  /// "nothing-to-undo", "already-undone", "no-such-command", and "stands-on-it" naming the later
  /// records that must be undone first.
  Undone undo(sensors::Instant now, std::optional<CommandId> command = std::nullopt);
  /// Newest first.
  std::vector<CommandLine> commands() const;

  /// The sheet that load_season read last (and that is not undone), JSON by kind and name; an empty
  /// object before the first.
  nlohmann::json last_sheet() const;

  /// Everything that stands, of every kind, in the order first told.
  std::vector<PlainNoun> nouns() const;
  /// Takes in nouns that were exported from this book or another, as one command: those that are
  /// new or stand differently are recorded, the rest is left as it is. `zone` counts only in a book
  /// without any record, `sheet` (see last_sheet) only in one that never loaded any. Throws
  /// Refused: "not-there" naming what is named and missing, "in-future".
  TakenIn take_in(std::span<const PlainNoun> nouns, std::string_view words, sensors::Instant now,
                  const std::optional<sensors::TimeZone>& zone = std::nullopt,
                  const std::optional<nlohmann::json>& sheet = std::nullopt);

  /// Seeds of a lot left: the newest count less what was sown since it was told. Below 0 if more
  /// was sown than counted.
  int on_hand(std::string_view lot) const;

  /// Adds to the hours of a bench's probe; an hour told again takes the newer mean. No undo takes
  /// them back.
  void keep_hours(std::string_view bench, const BenchHours& hours);
  BenchHours hours_of(std::string_view bench) const;

  /// When a batch left the chamber for good: the first move out after the last one in, or its end,
  /// whichever came first. None: it is still inside.
  std::optional<sensors::Instant> left_chamber(std::string_view batch) const;

  /// What the daemon has not been told yet, parked ones too, oldest first.
  std::vector<Notice> waiting() const;
  /// Writes down what became of tries to deliver. A notice replaced meanwhile stays; one that the
  /// daemon is ahead of waits again, with a revision above the daemon's.
  void settle(std::span<const DeliveryOutcome> outcomes);
  /// Lets parked notices be tried again.
  void unpark();

  /// SQLite's own check of the file; empty if sound, else what it complains of.
  std::vector<std::string> complaints() const;

 private:
  friend class Recorder;
  struct Inside;
  explicit Book(std::unique_ptr<Inside> inside);
  const Tables& tables() const;
  /// What was read of a kind since the file last changed, by whomever; null: nothing.
  struct Read {
    std::shared_ptr<const void> nouns{}, records{};
  };
  Read& read_of(Kind kind) const;
  std::unique_ptr<Inside> inside_;
};

template <class T>
Snapshot<T> Book::all() const {
  const auto records = this->records<T>();
  auto& read = read_of(T::kKind).nouns;
  if (!read) {
    auto nouns = std::make_shared<std::vector<T>>();
    for (const Recorded<T>& record : records) nouns->push_back(record.noun);
    read = std::move(nouns);
  }
  return Snapshot<T>(std::static_pointer_cast<const std::vector<T>>(read));
}

template <class T>
Snapshot<Recorded<T>> Book::records() const {
  using Records = std::vector<Recorded<T>>;
  auto& read = read_of(T::kKind).records;
  if (!read) {
    auto records = std::make_shared<Records>();
    for (const Row& row : tables().now(T::kKind))
      records->push_back({from_json<T>(row.fields), row.command, row.entered_at, row.first_told});
    read = std::move(records);
  }
  return Snapshot<Recorded<T>>(std::static_pointer_cast<const Records>(read));
}

template <class T>
std::optional<T> Book::find(std::string_view key) const {
  const auto row = tables().find(T::kKind, key);
  if (!row) return std::nullopt;
  return from_json<T>(row->fields);
}

template <class T>
std::vector<Version<T>> Book::history(std::string_view key) const {
  std::vector<Version<T>> versions;
  for (const Row& row : tables().history(T::kKind, key))
    versions.push_back({from_json<T>(row.fields), row.command, row.entered_at, row.gone});
  return versions;
}

}  // namespace takehold::client
