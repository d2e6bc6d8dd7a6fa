#include "daemon/io/child_program.hpp"

#include <fcntl.h>
#include <signal.h>
#include <spawn.h>
#include <sys/mman.h>
#include <sys/wait.h>
#include <unistd.h>

extern char** environ;

namespace takehold::daemon {

using namespace std::chrono_literals;

namespace {

/// The input as a file without a name: it never blocks us, whatever the command reads.
int input_file(const std::string& input) {
  const int file = ::memfd_create("event", MFD_CLOEXEC);
  if (file < 0) return -1;
  std::size_t done = 0;
  while (done < input.size()) {
    const auto count = ::write(file, input.data() + done, input.size() - done);
    if (count <= 0) break;
    done += std::size_t(count);
  }
  ::lseek(file, 0, SEEK_SET);
  return file;
}

/// -1: could not be started.
pid_t start(const std::vector<std::string>& command, const std::string& input) {
  const int file = input_file(input);
  if (file < 0) return -1;
  std::vector<char*> words;
  for (const auto& word : command) words.push_back(const_cast<char*>(word.c_str()));
  words.push_back(nullptr);
  posix_spawn_file_actions_t actions;
  ::posix_spawn_file_actions_init(&actions);
  ::posix_spawn_file_actions_adddup2(&actions, file, STDIN_FILENO);
  pid_t child = -1;
  if (::posix_spawnp(&child, words[0], &actions, nullptr, words.data(), environ) != 0) child = -1;
  ::posix_spawn_file_actions_destroy(&actions);
  ::close(file);
  return child;
}

}  // namespace

awaitable<int> run_program(std::vector<std::string> command, std::string input,
                           std::chrono::milliseconds patience) {
  const pid_t child = start(command, input);
  if (child < 0) co_return -1;
  const auto deadline = std::chrono::steady_clock::now() + patience;
  asio::steady_timer timer(co_await asio::this_coro::executor);
  while (true) {
    int state = 0;
    const pid_t ended = ::waitpid(child, &state, WNOHANG);
    if (ended == child) co_return WIFEXITED(state) ? WEXITSTATUS(state) : -1;
    if (ended < 0) co_return -1;
    if (std::chrono::steady_clock::now() >= deadline) ::kill(child, SIGKILL);
    timer.expires_after(50ms);
    co_await timer.async_wait(kNoThrow);
  }
}

}  // namespace takehold::daemon
