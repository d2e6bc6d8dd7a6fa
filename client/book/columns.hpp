// Which columns each kind's table has: the nouns' own field descriptions, by kind.
#pragma once

#include <span>

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

}  // namespace takehold::client
