// A moment as typed behind --at and --started.
#pragma once

#include <string>

#include "client/book/book.hpp"

namespace takehold::client {

/// "09:30" on that day by the book's clock, or an RFC 3339 instant. Wrong usage, code "bad-instant"
/// and `option`, where it cannot be read.
sensors::Instant moment_of(const std::string& text, const char* option, sensors::Day day,
                           const Book& book);

}  // namespace takehold::client
