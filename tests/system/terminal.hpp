// A real terminal of 80 by 24, drawn by tmux, with a program in it.
#pragma once

#include <string>
#include <vector>

#include "tests/system/real_place.hpp"

namespace takehold::testing {

class TerminalPlace : public RealPlace {
 protected:
  ~TerminalPlace() override { tmux("kill-server"); }

  /// Starts takehold with these words; --now as `now_` says.
  void open_terminal(const std::vector<std::string>& words) const;
  std::string screen() const { return tmux("capture-pane -p -t place"); }
  /// The screen comes to show `text`.
  bool shows(const std::string& text) const;
  /// Types `line` and Enter.
  void type_line(const std::string& line) const;
  void press(const std::string& key) const { tmux("send-keys -t place " + key); }
  /// The program has ended, and the terminal with it.
  bool closes() const;

 private:
  std::string tmux(const std::string& words) const;
};

}  // namespace takehold::testing
