// Which columns each kind's table has: the nouns' own field descriptions, by kind.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <span>
#include <string>
#include <utility>

#include "client/season/field.hpp"

namespace takehold::client {

enum class ColumnType { text, integer, flag, real, list };

struct FieldColumn {
  Field field;
  ColumnType type = ColumnType::text;
  bool nullable = false;
};

/// In the order of the noun's visit_fields.
std::span<const FieldColumn> columns_of(Kind kind);

/// The noun's key and its fields as to_json writes them. Throws Refused for values that are none of
/// the field's: "bad-value", "bad-date", "bad-instant", "out-of-range"; "bad-key" for a key that is empty or of
/// another letter.
std::pair<std::string, nlohmann::json> checked_noun(Kind kind, const nlohmann::json& fields);

}  // namespace takehold::client
