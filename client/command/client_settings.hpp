// takehold.toml: what a grower sets once for all commands.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "client/season/words.hpp"

namespace takehold::client {

/// Every key may be left out. What is typed wins over it.
struct ClientSettings {
  std::optional<std::string> book;        ///< the book's file
  std::optional<std::string> daemon;      ///< unix:PATH or http://host:port
  std::optional<std::string> token_file;  ///< a grower's token, for a daemon over TCP; mode 0600
  std::optional<std::string> time_zone;   ///< of a book that is made now; a known name
  std::optional<Units> units;             ///< shown, and meant by bare numbers; else the season's
  DateOrder dates = DateOrder::year_first;
};

/// Reads and checks all of it. A path that is not absolute is meant beside `file`. Throws Refused
/// with all mistakes, each with file and line.
ClientSettings read_client_settings(std::string_view text, const std::string& file);

/// The file that was `asked` for, which must be there; else takehold.toml in
/// $XDG_CONFIG_HOME/takehold (~/.config), else in /etc/takehold, else the defaults.
ClientSettings load_client_settings(const std::optional<std::string>& asked);

}  // namespace takehold::client
