// Safe copies of a book, and putting one back. Both are proven by comparing every row.
#pragma once

#include <cstdint>
#include <filesystem>

#include "sensors/quantity/calendar.hpp"

namespace takehold::client {

/// What was compared and found the same.
struct CopyProof {
  int tables = 0;
  std::int64_t rows = 0;
};

/// Copies the book as it stands, also while others use it; what is at `to` is replaced, whole or
/// not at all. Throws Refused: those of Book::open, "same-file", "not-the-same", "cannot-write".
CopyProof back_up(const std::filesystem::path& book, const std::filesystem::path& to,
                  sensors::Instant now);

struct Restored {
  CopyProof proof{};
  std::filesystem::path set_aside{};  ///< the book that stood there before; empty: none did
};

/// Puts a copy back in the book's place, also while others have the book open: they see all of it
/// or nothing. The copy must be sound; one of an older version is brought up to date on the way and
/// stays as it is. Afterwards every batch in the chamber waits to be told to the daemon anew, with
/// revisions far above those that it may have heard since. Throws Refused: those of Book::open about the copy; "book-exists" unless
/// `replace`; "busy"; "same-file". Until the very last step the book is untouched.
Restored restore_book(const std::filesystem::path& copy, const std::filesystem::path& book,
                      sensors::Instant now, bool replace);

}  // namespace takehold::client
