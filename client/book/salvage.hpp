// What can still be read of a damaged book, into a new one. The damaged file is only read.
#pragma once

#include <cstdint>
#include <filesystem>
#include <string>
#include <vector>

#include "client/book/record.hpp"

namespace takehold::client {

struct SalvagedTable {
  std::string name{};
  std::int64_t rows = 0;   ///< read and written
  bool cut_short = false;  ///< some of it could not be read
};

struct Salvaged {
  std::vector<SalvagedTable> tables{};
  /// Records that name something that is lost: "sowing S3 names lot QP-24".
  std::vector<std::string> loose_ends{};
  bool new_identity = false;  ///< the book's own number is lost, so the daemon takes it for another

  std::int64_t rows() const;
};

/// Makes `to` (refused, code "file-exists", if it is there) out of every row of `damaged` that
/// SQLite can still reach. Commands that are lost but named get an entry that says so. Throws
/// Refused: "no-file"; "nothing-readable" where not even the list of tables is left; "not-ours".
Salvaged salvage_book(const std::filesystem::path& damaged, const std::filesystem::path& to,
                      sensors::Instant now);

}  // namespace takehold::client
