#include "tests/system/terminal.hpp"

namespace takehold::testing {

using namespace std::chrono_literals;

std::string TerminalPlace::tmux(const std::string& words) const {
  return output_of("env -i PATH=/usr/bin:/bin LC_ALL=C.UTF-8 HOME='" + file("") + "' tmux -S '" +
                   file("tmux.sock") + "' -f /dev/null " + words + " 2>&1");
}

void TerminalPlace::open_terminal(const std::vector<std::string>& words) const {
  auto all = words;
  if (!now_.empty()) all.insert(all.begin(), {"--now", now_});
  std::string line;
  for (const auto& word : started("takehold", all)) line += "'" + word + "' ";
  // tmux says what kind of terminal it is; `env -i` would take that away.
  line.insert(line.find("'TZ=UTC'"), "\"TERM=$TERM\" ");
  write("terminal.sh", "exec " + line + "\n");
  tmux("new-session -d -s place -x 80 -y 24 'sh " + file("terminal.sh") + "'");
}

bool TerminalPlace::shows(const std::string& text) const {
  return becomes_true([&] { return screen().find(text) != std::string::npos; }, 20s);
}

void TerminalPlace::type_line(const std::string& line) const {
  if (!line.empty()) tmux("send-keys -t place -l -- '" + line + "'");
  tmux("send-keys -t place Enter");
}

bool TerminalPlace::closes() const {
  return becomes_true([&] { return tmux("ls").find("place") == std::string::npos; }, 10s);
}

}  // namespace takehold::testing
