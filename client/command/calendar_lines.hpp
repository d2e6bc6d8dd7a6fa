// The season by its days: what the accepted plan and the batches ask for, each thing under a name
// that stays the same however often its day moves.
#pragma once

#include <string>
#include <vector>

#include "client/book/book.hpp"
#include "client/command/ics.hpp"

namespace takehold::client {

/// Seedlings that share a cell are pricked out when the first true leaf shows, about so long after
/// sowing in warmth (common practice).
inline constexpr sensors::Days kPrickAfter{10};

struct CalendarLine {
  DayEvent event;
  std::string what;   ///< stable: sow prick measure graft stage ready
  std::string about;  ///< lot, pairing or batch
};

/// By day. What is done stands on the day on which it was done, what follows from it is reckoned
/// from there. A batch keeps the names of the planned graft that it fulfils. Every event's sequence
/// is the number of the book's last command: it rises with everything told, undo included, so that
/// a calendar that takes the file in again moves what moved.
std::vector<CalendarLine> calendar_of(const Book& book);

/// What stood in a calendar file before and does not any more: dropped from the plan, or measuring
/// days that an earlier graft leaves out. To be written with `cancelled`.
std::vector<DayEvent> cancelled_of(const Book& book, const std::vector<CalendarLine>& standing);

}  // namespace takehold::client
