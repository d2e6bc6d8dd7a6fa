// What may be a name or a label, and how a cut one is understood.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "sensors/quantity/problem.hpp"

namespace takehold::client {

/// A variety's, bench's or person's name: trimmed on return; valid UTF-8, not empty, no "/", no
/// control characters, composed (a letter followed by a loose combining mark is refused: see
/// docs/formats). Code "bad-name".
sensors::Result<std::string> checked_name(std::string_view name);

/// A label of a lot or batch, [A-Za-z0-9._-]{1,32}. Code "bad-label".
sensors::Result<std::string> checked_label(std::string_view label);

/// The one of `names` that is `typed`, or begins with it, whatever the case of letters (of ASCII,
/// and of Latin, Greek and Cyrillic). A name typed whole wins over longer ones. Codes "not-there"
/// (detail lists the nearest) and "ambiguous" (detail lists the candidates). `what`: "variety".
sensors::Result<std::string> by_beginning(std::string_view typed,
                                          std::span<const std::string> names,
                                          std::string_view what);

}  // namespace takehold::client
