// What the book hands out: nouns with who told them when, and the list of commands.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "client/season/kind.hpp"
#include "sensors/quantity/calendar.hpp"

namespace takehold::client {

/// Number of a recording command: rises, never reused.
using CommandId = std::int64_t;

/// When the book was first told of a noun: by which command, and which place it had among those
/// that the command wrote.
struct FirstTold {
  CommandId command = 0;
  int place = 0;
  auto operator<=>(const FirstTold&) const = default;
};

/// A noun as it stands, and when the book was first and last told of it.
template <class T>
struct Recorded {
  T noun{};
  CommandId command = 0;          ///< that wrote this version
  sensors::Instant entered_at{};  ///< of this version
  FirstTold first_told{};         ///< of the key
};

/// One version out of a noun's history, oldest first.
template <class T>
struct Version {
  T noun{};
  CommandId command = 0;
  sensors::Instant entered_at{};
  bool gone = false;  ///< dropped or undone with this version
};

struct NounRef {
  Kind kind{};
  std::string key{};
  bool operator==(const NounRef&) const = default;
  auto operator<=>(const NounRef&) const = default;
};

/// One line of `undo --list`.
struct CommandLine {
  CommandId id = 0;
  sensors::Instant entered_at{};
  std::string words{};                ///< as typed: "sow QP-24 --count 12"
  std::optional<CommandId> undoes{};  ///< set if it is itself an undo
  bool undone = false;                ///< a later undo took it back, and still does
  std::vector<NounRef> wrote{};
};

}  // namespace takehold::client
