// The files of an export, by their names.
#pragma once

#include <string>

#include "client/season/kind.hpp"

namespace takehold::client {

inline constexpr const char* kBookFile = "book.csv";              ///< uuid and time zone
inline constexpr const char* kSheetFile = "sheet.json";           ///< what the last sheet said
inline constexpr const char* kDictionaryFile = "dictionary.csv";  ///< what each column holds

/// "lot.csv"
inline std::string table_file(Kind kind) {
  return std::string(kind_name(kind)) + ".csv";
}

}  // namespace takehold::client
