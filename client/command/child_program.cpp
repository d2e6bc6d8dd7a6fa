#include "client/command/child_program.hpp"

#include <fcntl.h>
#include <sys/prctl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <cstring>
#include <thread>

#include "sensors/quantity/problem.hpp"

namespace takehold::client {

using sensors::Problem;
using sensors::Refused;

namespace {

/// Between fork and exec: only calls that are safe there. Never returns.
[[noreturn]] void become(const char* program, char* const* arguments, int output, pid_t parent) {
  ::setpgid(0, 0);  // Ctrl-C reaches us first, and we stop the child in order
  ::prctl(PR_SET_PDEATHSIG, SIGTERM);
  if (::getppid() != parent) ::_exit(127);
  ::dup2(output, STDOUT_FILENO);
  ::dup2(output, STDERR_FILENO);
  const int nothing = ::open("/dev/null", O_RDONLY);
  ::dup2(nothing, STDIN_FILENO);
  ::execv(program, arguments);
  ::_exit(127);
}

}  // namespace

std::filesystem::path program_beside_us(const std::string& name) {
  const auto beside = std::filesystem::read_symlink("/proc/self/exe").parent_path() / name;
  if (!std::filesystem::exists(beside)) {
    throw Refused(Problem{"program-not-found", "the program is not there", "", beside.string(),
                          "it is built and installed together with takehold"});
  }
  return beside;
}

ChildProgram::ChildProgram(const std::filesystem::path& program, std::vector<std::string> arguments,
                           const std::filesystem::path& output) {
  const std::string path = program.string();
  arguments.insert(arguments.begin(), path);
  std::vector<char*> words;
  for (auto& argument : arguments) words.push_back(argument.data());
  words.push_back(nullptr);
  const int file = ::open(output.c_str(), O_WRONLY | O_CREAT | O_APPEND | O_CLOEXEC, 0644);
  if (file < 0) {
    throw Refused(Problem{"program-not-started", "its output cannot be written",
                          std::strerror(errno), output.string(), ""});
  }
  const pid_t parent = ::getpid();
  id_ = ::fork();
  if (id_ == 0) become(path.c_str(), words.data(), file, parent);
  ::close(file);
  if (id_ < 0) {
    throw Refused(Problem{"program-not-started", "no new process", std::strerror(errno), path, ""});
  }
}

ChildProgram::~ChildProgram() {
  stop();
}

void ChildProgram::collect(int options) {
  if (ended_ || id_ <= 0) return;
  int status = 0;
  if (::waitpid(id_, &status, options) != id_) return;
  ended_ = true;
  exit_code_ = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

bool ChildProgram::is_running() {
  collect(WNOHANG);
  return !ended_;
}

int ChildProgram::stop(std::chrono::milliseconds patience) {
  constexpr auto kStep = std::chrono::milliseconds(10);
  if (is_running()) ::kill(id_, SIGTERM);
  for (auto waited = std::chrono::milliseconds(0); is_running() && waited < patience;
       waited += kStep) {
    std::this_thread::sleep_for(kStep);
  }
  if (is_running()) {
    ::kill(id_, SIGKILL);
    collect(0);
  }
  return exit_code_;
}

}  // namespace takehold::client
