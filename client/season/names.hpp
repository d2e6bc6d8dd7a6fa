// What may be a name or a label, and how a cut one is understood.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "sensors/quantity/problem.hpp"

namespace takehold::client {

/// A variety's, bench's or person's name, trimmed on return: valid UTF-8, not empty, at most 120
/// bytes, no "/", no control characters, composed. A letter with a loose mark behind it (what NFC
/// would join) is refused, not joined: docs/formats says so. Code "bad-name".
sensors::Result<std::string> checked_name(std::string_view name);

/// A label of a lot or batch, [A-Za-z0-9._-]{1,32}. Code "bad-label".
sensors::Result<std::string> checked_label(std::string_view label);

/// Capital letters made small, of the Latin, Greek and Cyrillic alphabets; the rest is kept.
std::string folded(std::string_view name);

/// The one of `names` that is `typed`, or begins with it, whatever the case of its letters. A name
/// typed whole wins over longer ones. Codes "not-there" and "ambiguous", whose detail lists the
/// candidates. `what` is for the message: "variety".
sensors::Result<std::string> by_beginning(std::string_view typed,
                                          std::span<const std::string> names,
                                          std::string_view what);

/// "Scion/Rootstock" as typed, split at its one stroke and trimmed; none if that is not its shape.
struct NamePair {
  std::string scion;
  std::string rootstock;
};
std::optional<NamePair> split_pairing(std::string_view typed);

}  // namespace takehold::client
