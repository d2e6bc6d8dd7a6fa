// A text told as if it had happened at another time.
#pragma once

#include <string>
#include <string_view>

#include "sensors/quantity/calendar.hpp"

namespace takehold::client {

/// Every date in `text` (2027-04-12, also at the front of an instant) moved by so many days;
/// everything else stays. What looks like a date but does not exist stays too.
std::string with_dates_moved(std::string_view text, sensors::Days by);

}  // namespace takehold::client
