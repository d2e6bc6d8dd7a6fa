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

/// The lane's name: what shares a serial line shares a lane.
std::string lane_of(const ProbeSettings& probe, std::size_t index) {
  if (const auto* serial = std::get_if<SerialSource>(&probe.source)) return serial->device;
  return "#" + std::to_string(index);
}

/// How long the first result of a round waits for the others.
constexpr auto kCompany = std::chrono::milliseconds(400);

}  // namespace

Poller::Poller(const std::vector<ProbeSettings>& probes, const asio::any_io_executor& executor)
    : probes_(probes), executor_(executor), bell_(executor) {
  for (std::size_t i = 0; i < probes.size(); ++i) {
    links_.push_back({make_driver(probes[i], wires_), LinkMachine(), false, false});
    if (links_.back().driver) polled_.push_back(i);
  }
}

void Poller::start(std::span<const std::size_t> which, std::chrono::milliseconds timeout) {
  for (const auto index : which) {
    if (links_[index].asking) continue;
    links_[index].asking = true;
    ++asking_;
    auto& lane = lanes_[lane_of(probes_[index], index)];
    lane.queue.push_back(index);
    if (lane.running) continue;
    lane.running = true;
    asio::co_spawn(executor_, run(lane, timeout), asio::detached);
  }
}

awaitable<void> Poller::run(Lane& lane, std::chrono::milliseconds timeout) {
  while (!lane.queue.empty()) {
    const auto index = lane.queue.front();
    lane.queue.pop_front();
    PollResult result;
    try {
      result = co_await ask_one(index, timeout);
    } catch (const std::exception& error) {  // one probe's trouble ends no lane
      result = {{probes_[index].name, {}, {}, {}, sensors::Quality::none}, error.what()};
    }
    done_.push_back(std::move(result));
    links_[index].asking = false;
    --asking_;
    bell_.cancel();
  }
  lane.running = false;
}

awaitable<std::vector<PollResult>> Poller::results() {
  while (done_.empty()) {
    bell_.expires_at(asio::steady_timer::time_point::max());
    co_await bell_.async_wait(kNoThrow);
  }
  const auto until = std::chrono::steady_clock::now() + kCompany;
  while (asking_ > 0 && std::chrono::steady_clock::now() < until) {
    bell_.expires_at(until);
    co_await bell_.async_wait(kNoThrow);
  }
  const auto now = wall_clock();
  for (auto& result : done_) result.reading.at = now;
  co_return std::exchange(done_, {});
}

awaitable<PollResult> Poller::ask_one(std::size_t index, std::chrono::milliseconds timeout) {
  const auto& probe = probes_[index];
  const auto answer = co_await attempt(index, std::max(probe.timeout, timeout));
  note(index, answer);
  PollResult result;
  result.reading.probe = probe.name;
  if (!answer) {
    result.reading.quality = sensors::Quality::none;
    result.error = answer.error().sentence();
    co_return result;
  }
  result.reading.temperature = answer->temperature;
  result.reading.humidity = answer->humidity;
  result.reading.extras = answer->extras;
  auto judged = sensors::judge(result.reading, probe.calibration);
  result.reading = std::move(judged.reading);
  result.error = std::move(judged.reason);
  co_return result;
}

awaitable<Result<Decoded>> Poller::attempt(std::size_t index, std::chrono::milliseconds timeout) {
  auto& [driver, machine, told, asking] = links_[index];
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
