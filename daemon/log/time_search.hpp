// Finding a time in the log without an index on time. Only for the sources of this folder.
#pragma once

#include "daemon/log/records.hpp"

namespace SQLite {
class Database;
}

namespace takehold::daemon {

/// The lowest row of a reading that is not late and not before `at`; one past the last row if there
/// is none. Such readings lie in time order, so that halving the range of rows finds it in about
/// thirty look-ups, and no index has to be written with every reading.
LogRow first_row_at(SQLite::Database& database, sensors::Instant at);

}  // namespace takehold::daemon
