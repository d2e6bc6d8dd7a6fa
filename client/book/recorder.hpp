// The pen: what a recording command may do to the book, inside its one transaction.
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <string_view>
#include <vector>

#include "client/book/book.hpp"

namespace takehold::client {

/// Lives as long as the function given to Book::record. What it wrote can be read back through
/// book() at once.
class Recorder {
 public:
  const Book& book() const { return book_; }
  CommandId command() const { return command_; }
  sensors::Instant now() const { return now_; }

  /// A new noun, or a new version of one. The same again changes nothing. Throws Refused
  /// "not-there" if it names something that does not stand. A Lot with another number of seeds
  /// brings a SeedCount with it.
  template <class T>
  void put(const T& noun) {
    put_fields(T::kKind, noun.key(), to_json(noun));
  }

  /// Lets it stand no longer. Throws Refused: "not-there", "in-use" naming what names it.
  template <class T>
  void drop(std::string_view key) {
    drop_key(T::kKind, key);
  }

  /// Nothing that stands names it.
  bool is_free(Kind kind, std::string_view key) const {
    return book_.tables().referrers(kind, key).empty();
  }

  /// "S12" for a sowing, "G7", "P3", "R40": the kind's next number, used up even if never put.
  std::string next_number(Kind kind);

  /// Keeps a loaded sheet, JSON by kind and name, for the next load's merge.
  void keep_sheet(const nlohmann::json& nouns);
  /// Only in a book's first command; otherwise it does nothing.
  void use_time_zone(const sensors::TimeZone& zone);

 private:
  friend class Book;
  Recorder(Book& book, CommandId command, sensors::Instant now)
      : book_(book), command_(command), now_(now) {}
  void put_fields(Kind kind, const std::string& key, const nlohmann::json& fields);
  void drop_key(Kind kind, std::string_view key);
  void count_seeds(const nlohmann::json& lot, const nlohmann::json& before);
  void touch(Kind kind, std::string_view key);
  /// As put, but what it names is checked only by check_taken_in, and a lot brings no count.
  void take_in(Kind kind, const std::string& key, const nlohmann::json& fields);
  void check_taken_in() const;
  bool changed() const { return !touched_.empty() || kept_sheet_; }

  Book& book_;
  CommandId command_;
  sensors::Instant now_;
  std::vector<NounRef> touched_{};  ///< each once, in the order first written
  bool kept_sheet_ = false;
  std::optional<sensors::TimeZone> zone_{};
};

}  // namespace takehold::client
