// The steps by which a file's schema grows: one numbered .sql file each, never edited once
// released.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace takehold::daemon {

/// One step. `sql` may hold many statements, but no BEGIN, COMMIT or PRAGMA: all steps that a file
/// needs run in one transaction, and foreign keys are checked at its end.
struct Migration {
  int version;
  std::string_view name;
  std::string_view sql;
};

/// A file compiled in by takehold_embed, whatever its generated type.
struct EmbeddedText {
  std::string_view name;
  std::string_view text;
};

/// Steps out of files named "001_first.sql", in the order of their numbers. Throws std::logic_error
/// when a name has no number, or the numbers are not 1, 2, 3 ...: that is a mistake of ours.
std::vector<Migration> migrations_from(const std::vector<EmbeddedText>& files);

template <class Files>
std::vector<Migration> migrations_of(const Files& embedded) {
  std::vector<EmbeddedText> files;
  for (const auto& file : embedded) files.push_back({file.name, file.text});
  return migrations_from(files);
}

}  // namespace takehold::daemon
