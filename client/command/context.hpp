// What every command is given: when it is, where the book lies, where to print.
#pragma once

#include <functional>
#include <iosfwd>
#include <optional>
#include <string>
#include <vector>

#include "client/command/client_settings.hpp"
#include "client/command/output.hpp"
#include "client/terminal/numbers.hpp"
#include "sensors/quantity/calendar.hpp"

namespace takehold::client {

/// Understood by every command, before it or behind it.
struct GlobalOptions {
  bool json = false;
  std::optional<std::string> now;       ///< an instant instead of the clock's: tests, demo, replay
  std::optional<std::string> book;      ///< the book's file
  std::optional<std::string> daemon;    ///< unix:PATH or http://host:port
  std::optional<std::string> settings;  ///< takehold.toml instead of the usual one
};

/// --on and --at as typed.
struct TypedWhen {
  std::optional<std::string> on, at;
};

/// A command asked for in a way that cannot be meant: exit 2 instead of 1.
class WrongUsage : public sensors::Refused {
 public:
  using Refused::Refused;
};

/// The value of a typed argument. What cannot be read is wrong usage; what can be read but cannot
/// be
/// ("out-of-range") is refused.
template <class T>
T typed(const sensors::Result<T>& result) {
  if (result) return *result;
  if (result.error().code == "out-of-range") throw sensors::Refused(result.error());
  throw WrongUsage(result.error());
}

/// One run of one command. Lives on the stack of the program's border.
struct Context {
  const GlobalOptions& options;
  sensors::Instant now;
  Units units;  ///< what a bare typed number means, and what is shown
  Output& out;
  std::istream& in;
  bool at_terminal;  ///< somebody types into `in`
  /// Runs another command of the program in this run's place, as typed words: what `done` does.
  std::function<void(const std::vector<std::string>&)> run_instead;
  ClientSettings settings{};

  /// The units of a season's sheet: they hold where takehold.toml says nothing.
  void use_units_of_season(Units of_season) {
    units = settings.units.value_or(of_season);
    out.show_units(units);
  }
};

/// --now, else `clock`. Code "bad-instant" where it cannot be read.
sensors::Instant now_of(const GlobalOptions& options, sensors::Instant clock);

/// --book, else the setting, else $XDG_DATA_HOME/takehold/book.db, else
/// ~/.local/share/takehold/book.db.
std::string book_path(const Context& context);

}  // namespace takehold::client
