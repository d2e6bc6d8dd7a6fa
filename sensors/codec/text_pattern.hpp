// A line of text read by a regular expression of the user's own.
#pragma once

#include <memory>
#include <string>
#include <string_view>

#include "sensors/codec/decoded.hpp"

namespace takehold::sensors {

/// Boost.Regex (Perl syntax) with a named group for each value the line tells, of the names
/// `temperature humidity leaf_temperature co2 light`:
///   T=(?<temperature>[-0-9.]+) H=(?<humidity>[0-9.]+)
/// Cheap to copy, free to share between threads.
class TextPattern {
 public:
  /// Codes "bad-pattern" (the engine's own words in the detail), "no-groups".
  static Result<TextPattern> compile(const std::string& pattern);

  /// The pattern may match anywhere in the line; a group that took no part is a missing value.
  /// Codes "no-match", "bad-number", "bad-unit", and "pattern-too-slow" when the engine gives up:
  /// it bounds its own work, so no line can hang the caller.
  Result<Decoded> decode(std::string_view line) const;

 private:
  struct Compiled;
  explicit TextPattern(std::shared_ptr<const Compiled> compiled) : compiled_(std::move(compiled)) {}
  std::shared_ptr<const Compiled> compiled_;
};

}  // namespace takehold::sensors
