// Runs the program in this process, as a shell would, and keeps what it said.
#pragma once

#include <nlohmann/json.hpp>
#include <sstream>
#include <string>
#include <vector>

#include "client/command/program.hpp"

namespace takehold::client {

struct Said {
  int exit_code;
  std::string out, err;
  nlohmann::json document() const { return nlohmann::json::parse(out); }
};

/// `at_terminal`: as if somebody sat there and typed it.
inline Said run(const std::vector<std::string>& arguments, const std::string& typed = "",
                bool at_terminal = false) {
  std::istringstream in(typed);
  std::ostringstream out, err;
  const auto clock = *sensors::parse_instant("2027-04-12T09:30:00Z");
  const int code =
      run_program(arguments, {in, out, err, TerminalStyle{100, false, true}, clock, at_terminal});
  return {code, out.str(), err.str()};
}

}  // namespace takehold::client
