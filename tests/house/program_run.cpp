#include "tests/house/program_run.hpp"
#include "embedded/places.hpp"

#include <sys/wait.h>

#include <array>
#include <cstdio>
#include <stdexcept>

namespace takehold::house {
namespace {

std::string quoted(const std::string& word) {
  std::string text = "'";
  for (const char c : word) text += c == '\'' ? std::string("'\\''") : std::string(1, c);
  return text + "'";
}

}  // namespace

ProgramRun run(const std::vector<std::string>& words, const std::string& home) {
  std::string line = "env -u TAKEHOLD_DAEMON -u RUNTIME_DIRECTORY -u STATE_DIRECTORY";
  for (const char* name :
       {"HOME", "XDG_DATA_HOME", "XDG_CONFIG_HOME", "XDG_STATE_HOME", "XDG_RUNTIME_DIR"}) {
    line += std::string(" ") + name + "=" + quoted(home);
  }
  for (const auto& word : words) line += " " + quoted(word);
  line += " </dev/null 2>&1";
  std::FILE* pipe = ::popen(line.c_str(), "r");
  if (pipe == nullptr) throw std::runtime_error("cannot start: " + line);
  ProgramRun result;
  std::array<char, 4096> buffer{};
  for (std::size_t n; (n = std::fread(buffer.data(), 1, buffer.size(), pipe)) > 0;) {
    result.output.append(buffer.data(), n);
  }
  const int status = ::pclose(pipe);
  result.exit_code = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
  return result;
}

std::string built(const std::string& name) {
  return std::string(TAKEHOLD_BIN_DIR) + "/" + name;
}

}  // namespace takehold::house
