#include "daemon/io/poller.hpp"

#include <spdlog/spdlog.h>

#include <algorithm>

#include "daemon/io/serial_line.hpp"
#include "sensors/check/judge.hpp"

namespace takehold::daemon {

using sensors::Decoded;
using sensors::Instant;
using sensors::Problem;
using sensors::Reading;
using sensors::Result;

namespace {

LinkMachine::Outcome outcome_of(const Result<Decoded>& answer) {
  if (answer) return LinkMachine::Outcome::answered;
  const auto& code = answer.error().code;
  if (code == "silent") return LinkMachine::Outcome::silent;
  if (code == "lost") return LinkMachine::Outcome::lost;
  return LinkMachine::Outcome::garbled;
}

/// What shares a line is asked one after the other.
std::string line_of(const ProbeSettings& probe, std::size_t index) {
  if (const auto* serial = std::get_if<SerialSource>(&probe.source)) return serial->device;
  return "#" + std::to_string(index);
}

}  // namespace

/// One call of ask(): shared, so that it lives as long as any of its groups.
struct Poller::Round {
  Instant at;
  std::chrono::milliseconds timeout;
  std::map<std::size_t, PollResult> results;
  std::size_t groups_left = 0;
  asio::steady_timer finished;  ///< cancelled when the last group is done
};

Poller::Poller(const std::vector<ProbeSettings>& probes) : probes_(probes) {
  for (std::size_t i = 0; i < probes.size(); ++i) {
    links_.push_back({make_driver(probes[i], lines_), LinkMachine(), false});
    if (links_.back().driver) polled_.push_back(i);
  }
}

awaitable<std::vector<PollResult>> Poller::ask(std::span<const std::size_t> which, Instant at,
                                               std::chrono::milliseconds timeout) {
  const auto executor = co_await asio::this_coro::executor;
  auto round = std::make_shared<Round>(Round{
      at, timeout, {}, 0, asio::steady_timer(executor, asio::steady_timer::time_point::max())});
  std::map<std::string, std::vector<std::size_t>> groups;
  for (const auto index : which) groups[line_of(probes_[index], index)].push_back(index);
  round->groups_left = groups.size();
  for (auto& [line, group] : groups) {
    asio::co_spawn(executor, ask_group(group, round), asio::detached);
  }
  if (round->groups_left > 0) co_await round->finished.async_wait(kNoThrow);
  std::vector<PollResult> results;
  for (auto& [index, result] : round->results) results.push_back(std::move(result));
  co_return results;
}

awaitable<void> Poller::ask_group(std::vector<std::size_t> group, std::shared_ptr<Round> round) {
  for (const auto index : group) {
    try {
      round->results[index] = co_await ask_one(index, *round);
    } catch (const std::exception& error) {  // one probe's trouble ends no round
      Reading nothing{probes_[index].name, round->at, {}, {}, sensors::Quality::none};
      round->results[index] = {std::move(nothing), error.what()};
    }
  }
  if (--round->groups_left == 0) round->finished.cancel();
}

awaitable<PollResult> Poller::ask_one(std::size_t index, const Round& round) {
  const auto& probe = probes_[index];
  const auto answer = co_await attempt(index, std::max(probe.timeout, round.timeout));
  note(index, answer);
  PollResult result;
  result.reading.probe = probe.name;
  result.reading.at = round.at;
  if (!answer) {
    result.reading.quality = sensors::Quality::none;
    result.error = answer.error().sentence();
    co_return result;
  }
  result.reading.temperature = answer->temperature;
  result.reading.humidity = answer->humidity;
  auto judged = sensors::judge(result.reading, probe.calibration);
  result.reading = std::move(judged.reading);
  result.error = std::move(judged.reason);
  co_return result;
}

awaitable<Result<Decoded>> Poller::attempt(std::size_t index, std::chrono::milliseconds timeout) {
  auto& [driver, machine, told] = links_[index];
  const auto now = std::chrono::steady_clock::now();
  if (machine.next(now) == LinkMachine::Action::rest) {
    co_return Problem{"resting", "cannot be reached, will be tried again", "", "", ""};
  }
  const auto opened = co_await driver->open();
  if (!opened) {
    (void)machine.report(LinkMachine::Outcome::lost, now);
    co_return opened.error();
  }
  const auto answer = co_await driver->ask(timeout);
  if (machine.report(outcome_of(answer), std::chrono::steady_clock::now())) driver->close();
  co_return answer;
}

void Poller::note(std::size_t index, const Result<Decoded>& answer) {
  auto& link = links_[index];
  if (answer) {
    if (link.told_lost) spdlog::info("poll: {}: speaks again", probes_[index].name);
    link.told_lost = false;
  } else if (!link.told_lost && answer.error().code != "resting") {
    spdlog::warn("poll: {}: {}", probes_[index].name, answer.error().sentence());
    link.told_lost = true;
  }
}

}  // namespace takehold::daemon
