// Tells the grower: starts the command of each [[notify]] with the event's JSON on its stdin.
//
// A command that hangs is stopped after 30 s; it never holds up the watch. One thread.
#pragma once

#include "daemon/io/asio.hpp"
#include "daemon/io/keeper.hpp"
#include "daemon/settings/settings.hpp"

namespace takehold::daemon {

/// Runs one command to its end. Its exit status; -1: it could not be started or was stopped.
awaitable<int> run_command(std::vector<std::string> command, std::string input,
                           std::chrono::milliseconds patience);

class Notifiers {
 public:
  /// Listens to `keeper`, which must outlive it.
  Notifiers(asio::io_context& context, const Settings& settings, Keeper& keeper);

 private:
  void tell(const LoggedRound& round);

  asio::io_context& context_;
  const Settings& settings_;
  const Keeper& keeper_;
};

}  // namespace takehold::daemon
