// What every recording command is given, and how it shows what it recorded.
#pragma once

#include <nlohmann/json.hpp>
#include <string>

#include "client/book/closed_season.hpp"
#include "client/book/recorder.hpp"
#include "client/command/context.hpp"
#include "client/command/opened_book.hpp"
#include "client/season/field_json.hpp"

namespace takehold::client {

/// One thing told to the book. `at` is when it happened, `now` when it is told.
struct Telling {
  Book& book;
  sensors::Instant now;
  sensors::Instant at;
  std::string note;
};

/// A telling of this run: --on, --at and --note as typed. The future is refused, and a season that
/// is closed.
inline Telling telling_of(Context& context, Book& book, const TypedWhen& when, std::string note) {
  refuse_closed(book);
  return {book, context.now, instant_of(when, book, context.now), std::move(note)};
}

/// The record's fields and the day it happened on, by the grower's calendar, and when it was told.
template <class T>
nlohmann::json record_json(const Telling& telling, const T& record) {
  nlohmann::json document = to_json(record);
  document["on"] = sensors::to_string(telling.book.time_zone().day_of(record.at));
  document["entered_at"] = sensors::to_string(telling.now);
  return document;
}

/// [{kind, key}]
inline nlohmann::json nouns_json(const std::vector<NounRef>& nouns) {
  nlohmann::json list = nlohmann::json::array();
  for (const NounRef& noun : nouns) {
    list.push_back({{"kind", std::string(kind_name(noun.kind))}, {"key", noun.key}});
  }
  return list;
}

/// The word that was typed for one of a list; wrong usage with this code for any other.
template <class E>
E typed_word(const std::string& word, const char* argument, const char* code) {
  if (const auto value = from_text<E>(word)) return *value;
  throw WrongUsage(
      {code, "\"" + word + "\" is none of the words known here", "", argument, choices<E>()});
}

/// Refuses with this code; `where` is the argument or the thing meant.
[[noreturn]] inline void refuse(std::string code, std::string title, std::string where,
                                std::string hint = "") {
  throw sensors::Refused(
      {std::move(code), std::move(title), "", std::move(where), std::move(hint)});
}

}  // namespace takehold::client
