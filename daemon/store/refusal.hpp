// SQLite's errors in words a grower can act on.
#pragma once

#include <string>

#include "sensors/quantity/problem.hpp"

namespace SQLite {
class Exception;
}

namespace takehold::daemon {

/// `about` is the file. Codes: those of Store::open.
sensors::Refused refusal_of(const SQLite::Exception& error, const std::string& about);

}  // namespace takehold::daemon
