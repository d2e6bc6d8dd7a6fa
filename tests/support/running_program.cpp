#include "tests/support/running_program.hpp"

#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <stdlib.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <cstdio>
#include <memory>
#include <stdexcept>
#include <thread>
#include <utility>

namespace takehold::testing {
namespace {

using std::chrono::milliseconds;
using Clock = std::chrono::steady_clock;

constexpr auto kStopPatience = std::chrono::seconds(5);

/// Puts a file in a stream's place; an empty name leaves it.
void redirect(const std::string& file, int flags, int stream) {
  if (file.empty()) return;
  const int opened = ::open(file.c_str(), flags, 0600);
  if (opened < 0 || ::dup2(opened, stream) < 0) ::_exit(126);
  ::close(opened);
}

[[noreturn]] void become(const std::vector<std::string>& arguments, const Streams& streams,
                         int output) {
  std::vector<char*> words;
  for (const auto& argument : arguments) words.push_back(const_cast<char*>(argument.c_str()));
  words.push_back(nullptr);
  redirect(streams.input, O_RDONLY, STDIN_FILENO);
  redirect(streams.errors, O_WRONLY | O_CREAT | O_APPEND, STDERR_FILENO);
  ::dup2(output, STDOUT_FILENO);
  ::execv(words[0], words.data());
  std::perror(words[0]);
  ::_exit(127);
}

int as_exit_code(int status) {
  return WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
}

}  // namespace

RunningProgram::RunningProgram(const std::vector<std::string>& arguments, const Streams& streams) {
  std::array<int, 2> pipe{};
  if (::pipe2(pipe.data(), O_CLOEXEC) != 0) throw std::runtime_error("pipe");
  pid_ = ::fork();
  if (pid_ < 0) throw std::runtime_error("fork");
  if (pid_ == 0) become(arguments, streams, pipe[1]);
  ::close(pipe[1]);
  output_ = pipe[0];
}

RunningProgram::~RunningProgram() {
  if (!ended_) signal(SIGTERM);
  if (!exit_code(kStopPatience)) {
    signal(SIGKILL);
    exit_code(kStopPatience);
  }
  ::close(output_);
}

void RunningProgram::signal(int number) const {
  ::kill(pid_, number);
}

std::optional<int> RunningProgram::exit_code(milliseconds patience) {
  const auto deadline = Clock::now() + patience;
  while (!ended_) {
    int status = 0;
    if (::waitpid(pid_, &status, WNOHANG) == pid_) ended_ = as_exit_code(status);
    if (ended_ || Clock::now() >= deadline) break;
    std::this_thread::sleep_for(milliseconds(10));
  }
  return ended_;
}

std::optional<std::string> RunningProgram::take_line() {
  const auto end = held_.find('\n');
  if (end == std::string::npos) return std::nullopt;
  const auto line = held_.substr(0, end);
  held_.erase(0, end + 1);
  return line;
}

std::optional<std::string> RunningProgram::line_beginning(const std::string& beginning,
                                                          milliseconds patience) {
  const auto deadline = Clock::now() + patience;
  for (;;) {
    while (const auto line = take_line()) {
      if (line->starts_with(beginning)) return line;
    }
    const auto left = std::chrono::duration_cast<milliseconds>(deadline - Clock::now());
    pollfd look{output_, POLLIN, 0};
    if (left.count() <= 0 || ::poll(&look, 1, static_cast<int>(left.count())) != 1) {
      return std::nullopt;
    }
    if (!read_more()) return std::nullopt;
  }
}

bool RunningProgram::read_more() {
  std::array<char, 4096> piece;
  const auto n = ::read(output_, piece.data(), piece.size());
  if (n > 0) held_.append(piece.data(), static_cast<std::size_t>(n));
  return n > 0;
}

std::string RunningProgram::rest() {
  while (read_more()) {
  }
  return std::exchange(held_, {});
}

ScratchFolder::ScratchFolder() {
  std::string name = (std::filesystem::temp_directory_path() / "takehold-test-XXXXXX").string();
  if (::mkdtemp(name.data()) == nullptr) throw std::runtime_error("mkdtemp");
  folder_ = name;
}

ScratchFolder::~ScratchFolder() {
  std::error_code error;
  std::filesystem::remove_all(folder_, error);
}

namespace {

/// What it prints, and what pclose says of its end.
std::pair<std::string, int> run_in_shell(const std::string& command) {
  FILE* pipe = ::popen(command.c_str(), "r");
  if (pipe == nullptr) throw std::runtime_error("no shell for: " + command);
  std::string text;
  std::array<char, 4096> piece;
  while (const auto n = std::fread(piece.data(), 1, piece.size(), pipe)) {
    text.append(piece.data(), n);
  }
  return {text, ::pclose(pipe)};
}

}  // namespace

std::string output_of(const std::string& command) {
  return run_in_shell(command).first;
}

std::string answer_of(const std::string& command) {
  auto [text, end] = run_in_shell(command);
  if (end != 0) throw std::runtime_error("it failed: " + command);
  return text;
}

}  // namespace takehold::testing
