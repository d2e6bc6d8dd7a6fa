// The nouns' tables without the nouns' types: one row is one version, as JSON by field name.
//
// A noun's table has a column for each Field, named as the field; lists are kept as JSON text. In
// front stand row (rises), key, command and gone. Only for this folder and its templates.
#pragma once

#include <cstdint>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "client/book/record.hpp"
#include "client/season/field_json.hpp"

namespace SQLite {
class Database;
}

namespace takehold::client {

/// One version of one noun.
struct Row {
  std::int64_t row = 0;
  std::string key{};
  CommandId command = 0;
  FirstTold first_told{};
  sensors::Instant entered_at{};
  bool gone = false;
  nlohmann::json fields{};
};

class Tables {
 public:
  /// Borrows the connection, which must outlive it.
  explicit Tables(SQLite::Database& database) : database_(&database) {}

  /// What stands, in the order first recorded.
  std::vector<Row> now(Kind kind) const;
  std::optional<Row> find(Kind kind, std::string_view key) const;
  /// All versions, oldest first.
  std::vector<Row> history(Kind kind, std::string_view key) const;
  /// The version that stood before that command, gone or not; none if there was none.
  std::optional<Row> before(Kind kind, std::string_view key, CommandId command) const;

  void append(Kind kind, std::string_view key, CommandId command, bool gone,
              const nlohmann::json& fields) const;
  /// Nouns standing now that name this one.
  std::vector<NounRef> referrers(Kind kind, std::string_view key) const;
  /// Keys that `fields` names but that do not stand.
  std::vector<NounRef> missing_references(Kind kind, const nlohmann::json& fields) const;

 private:
  std::vector<Row> select(Kind kind, const std::string& condition, std::string_view key,
                          std::int64_t number) const;
  SQLite::Database* database_;
};

}  // namespace takehold::client
