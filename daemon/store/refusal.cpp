#include "daemon/store/refusal.hpp"

#include <SQLiteCpp/SQLiteCpp.h>
#include <sqlite3.h>

namespace takehold::daemon {

sensors::Refused refusal_of(const SQLite::Exception& error, const std::string& about) {
  switch (error.getErrorCode() & 0xff) {
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
      return sensors::Refused({"busy", "another program is writing to this file", "", about,
                               "try again when it is done"});
    case SQLITE_CORRUPT:
    case SQLITE_NOTADB:
      return sensors::Refused({"damaged-file", "this file is damaged or not a database",
                               error.getErrorStr(), about,
                               "keep it as it is and restore a backup beside it"});
    default:
      return sensors::Refused({"cannot-open", "this file cannot be opened", error.getErrorStr(),
                               about, "look at its rights and at the room on the disk"});
  }
}

}  // namespace takehold::daemon
