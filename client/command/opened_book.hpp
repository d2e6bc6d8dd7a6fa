// The book of one run, and names in it as growers type them.
#pragma once

#include <string>
#include <string_view>

#include "client/book/book.hpp"
#include "client/command/context.hpp"
#include "client/season/pairing.hpp"
#include "client/season/season.hpp"

namespace takehold::client {

enum class BookUse {
  reading,    ///< refused, code "no-book", where there is none yet
  recording,  ///< made where there is none, with the folders above it
};

/// Opens the book of this run and takes the season's units. A book that is made takes the
/// zone $TZ names, if it names one, else the machine's.
Book open_book(Context& context, BookUse use);

/// The season; code "no-season" where the book has none yet.
Season season_in(const Book& book);

/// The variety, lot or other named noun that `typed` is or begins. Codes "not-there", "ambiguous".
template <class T>
T find_typed(const Book& book, std::string_view typed);

/// The pairing typed as P3 or "Scion/Rootstock", either name cut short. Codes as above.
Pairing find_pairing(const Book& book, std::string_view typed);

/// The noun numbered S12, G7 ... whatever the case. Code "not-there".
template <class T>
T find_numbered(const Book& book, std::string_view typed);

/// The day of --on, the instant of --at, or now. A day alone means 12:00 local, or now if it is
/// today. The future is refused: code "in-the-future".
sensors::Instant instant_of(const TypedWhen& when, const Book& book, sensors::Instant now);
sensors::Day day_of(const TypedWhen& when, const Book& book, sensors::Instant now);

}  // namespace takehold::client

#include "client/command/opened_book_impl.hpp"
