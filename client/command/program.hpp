// The program from its arguments to its exit code: the one border at which every error is told.
#pragma once

#include <iosfwd>
#include <span>
#include <string>

#include "client/terminal/style.hpp"
#include "sensors/quantity/calendar.hpp"

namespace takehold::client {

inline constexpr int kDone = 0;
inline constexpr int kRefused = 1;  ///< refused or failed
inline constexpr int kWrongUsage = 2;

/// What surrounds one run. The streams must outlive it.
struct Surroundings {
  std::istream& in;
  std::ostream& out;
  std::ostream& err;
  TerminalStyle style;
  sensors::Instant clock;    ///< used where no --now is given
  bool at_terminal = false;  ///< `in` and `out` are a terminal with somebody before it
};

/// Runs the command that `arguments` (without the program's name) ask for. Never throws.
int run_program(std::span<const std::string> arguments, const Surroundings& around);

}  // namespace takehold::client
