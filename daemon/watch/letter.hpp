// An event as a letter (RFC 5322): what is handed to a program that sends mail.
#pragma once

#include <string>
#include <vector>

#include "sensors/quantity/calendar.hpp"

namespace takehold::daemon {

struct Letter {
  std::string from;  ///< plain addresses
  std::vector<std::string> to;
  std::string
      subject;        ///< UTF-8; control characters become blanks, and it is cut to a line's length
  std::string text;   ///< UTF-8, wrapped
  std::string about;  ///< the event: one letter of it has one Message-ID, however often it is sent
  sensors::Instant at;
};

/// Head and body, lines ended by a line feed: what -t reads from its standard input.
std::string to_message(const Letter& letter);

}  // namespace takehold::daemon
