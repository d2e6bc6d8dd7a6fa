#include "daemon/io/notifier.hpp"

#include <fcntl.h>
#include <signal.h>
#include <spawn.h>
#include <spdlog/spdlog.h>
#include <sys/mman.h>
#include <sys/wait.h>
#include <unistd.h>

#include <nlohmann/json.hpp>

#include "daemon/io/messages.hpp"

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

awaitable<void> notify(std::vector<std::string> command, std::string input) {
  const std::string name = command.front();
  const int status = co_await run_command(std::move(command), std::move(input), 30s);
  if (status != 0) spdlog::warn("notify: {}: ended with status {}", name, status);
}

std::chrono::minutes clock_of(sensors::Instant at) {
  const std::time_t seconds =
      std::chrono::floor<std::chrono::seconds>(at).time_since_epoch().count();
  std::tm local{};
  ::localtime_r(&seconds, &local);
  return std::chrono::minutes(local.tm_hour * 60 + local.tm_min);
}

/// What quiet hours never silence: air outside its band, and no probe left that speaks.
bool cannot_wait(const Event& event, const Keeper& keeper) {
  if (!event.warning || event.type != EventType::warning) return false;
  if (event.warning->kind == WarningKind::outside) return true;
  std::size_t silent = 0;
  for (const auto& warning : keeper.chamber().watch().warnings()) {
    silent += warning.standing() && warning.cause == Cause::silent;
  }
  return silent >= keeper.settings().probes.size();
}

}  // namespace

awaitable<int> run_command(std::vector<std::string> command, std::string input,
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

Notifiers::Notifiers(asio::io_context& context, const Settings& settings, Keeper& keeper)
    : context_(context), settings_(settings), keeper_(keeper) {
  if (settings.notify.empty()) return;
  keeper.on_round([this](const LoggedRound& round) { tell(round); });
}

void Notifiers::tell(const LoggedRound& round) {
  for (const auto& [row, event] : round.events) {
    const auto text = json_text(event_message(event)) + "\n";
    for (const auto& one : settings_.notify) {
      if (one.quiet && one.quiet->holds(clock_of(event.at)) && !cannot_wait(event, keeper_))
        continue;
      asio::co_spawn(context_, notify(std::get<CommandNotify>(one.how).command, text),
                     asio::detached);
    }
  }
}

}  // namespace takehold::daemon
