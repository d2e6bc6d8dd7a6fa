#include "client/book/recorder.hpp"

#include <SQLiteCpp/Database.h>
#include <SQLiteCpp/Statement.h>

#include <algorithm>

#include "client/book/inside.hpp"
#include "client/season/seed.hpp"

namespace takehold::client {
namespace {

using nlohmann::json;
using sensors::Refused;

std::string told(const NounRef& noun) {
  return std::string(kind_name(noun.kind)) + " " + noun.key;
}

void refuse_future(const json& fields, sensors::Instant now) {
  const auto at = fields.find("at");
  if (at == fields.end() || !at->is_string()) return;
  if (sensors::parse_instant(at->get<std::string>()).value() <= now) return;
  throw Refused({"in-future", "that has not happened yet: " + at->get<std::string>(),
                 "it is now " + sensors::to_string(now), "", ""});
}

bool describes_its_lot(Kind kind) {
  return kind == Kind::seed_count || kind == Kind::lot_test;
}

}  // namespace

void Recorder::put_fields(Kind kind, const std::string& key, const json& fields) {
  const Tables& tables = book_.tables();
  const auto before = tables.find(kind, key);
  if (before && before->fields == fields) return;
  refuse_future(fields, now_);
  if (const auto missing = tables.missing_references(kind, fields); !missing.empty())
    throw Refused({"not-there", "there is no " + told(missing.front()), "", told({kind, key}), ""});
  tables.append(kind, key, command_, false, fields);
  touch(kind, key);
  if (kind == Kind::lot) count_seeds(fields, before ? before->fields : json());
}

void Recorder::count_seeds(const json& lot, const json& before) {
  if (!before.is_null() && before.at("seeds") == lot.at("seeds")) return;
  SeedCount count;
  count.id = next_number(Kind::seed_count);
  count.lot = lot.at("label").get<std::string>();
  count.seeds = lot.at("seeds").get<int>();
  put(count);
}

void Recorder::drop_key(Kind kind, std::string_view key) {
  const Tables& tables = book_.tables();
  const auto stands = tables.find(kind, key);
  if (!stands)
    throw Refused({"not-there", "there is no " + told({kind, std::string(key)}), "", "", ""});
  std::string users;
  for (const NounRef& user : tables.referrers(kind, key)) {
    if (describes_its_lot(user.kind)) {
      drop_key(user.kind, user.key);
    } else {
      users += (users.empty() ? "" : ", ") + told(user);
    }
  }
  if (!users.empty())
    throw Refused({"in-use", told({kind, std::string(key)}) + " is named by other records", users,
                   "", "drop those first"});
  tables.append(kind, key, command_, true, stands->fields);
  touch(kind, key);
}

std::string Recorder::next_number(Kind kind) {
  const std::string letter(1, kind_letter(kind));
  return letter + std::to_string(count_up(book_.inside_->database(), letter));
}

void Recorder::keep_sheet(const json& nouns) {
  if (book_.last_sheet() == nouns) return;
  SQLite::Statement statement(book_.inside_->database(),
                              "INSERT INTO sheet (command, nouns) VALUES (?, ?)");
  statement.bind(1, command_);
  statement.bind(2, nouns.dump());
  statement.exec();
  kept_sheet_ = true;
}

void Recorder::use_time_zone(const sensors::TimeZone& zone) {
  auto& database = book_.inside_->database();
  SQLite::Statement others(database, "SELECT count(*) FROM command WHERE id <> ?");
  others.bind(1, command_);
  others.executeStep();
  if (others.getColumn(0).getInt() > 0) return;
  SQLite::Statement statement(database, "UPDATE book SET time_zone = ?");
  statement.bind(1, zone.name());
  statement.exec();
  zone_ = zone;
}

void Recorder::touch(Kind kind, std::string_view key) {
  NounRef noun{kind, std::string(key)};
  if (std::find(touched_.rbegin(), touched_.rend(), noun) == touched_.rend())
    touched_.push_back(std::move(noun));
}

void Recorder::take_in(Kind kind, const std::string& key, const json& fields) {
  refuse_future(fields, now_);
  book_.tables().append(kind, key, command_, false, fields);
  touched_.push_back({kind, key});
  if (const char letter = kind_letter(kind); letter != 0)
    count_at_least(book_.inside_->database(), std::string(1, letter), std::stoll(key.substr(1)));
}

void Recorder::check_taken_in() const {
  for (const NounRef& noun : touched_) {
    const auto row = book_.tables().find(noun.kind, noun.key);
    if (!row) continue;
    const auto missing = book_.tables().missing_references(noun.kind, row->fields);
    if (!missing.empty())
      throw Refused({"not-there", "there is no " + told(missing.front()), "", told(noun), ""});
  }
}

}  // namespace takehold::client
