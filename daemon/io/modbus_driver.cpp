#include "daemon/io/modbus_driver.hpp"

namespace takehold::daemon {

using sensors::Decoded;
using sensors::Registers;
using sensors::Result;

namespace {

/// A line that is never silent is spoken on all the same: it may be another's noise.
constexpr auto kLongestWaitForSilence = std::chrono::milliseconds(300);

bool is_worth_another_try(const std::string& code) {
  return code != "lost" && code != "silent" && code != "refused";
}

}  // namespace

ModbusDriver::ModbusDriver(std::shared_ptr<SerialLine> line, const sensors::ModbusMap& map,
                           int baud)
    : line_(std::move(line)), map_(map), silence_(sensors::frame_silence(unsigned(baud))) {}

awaitable<Result<void>> ModbusDriver::open() {
  co_return line_->open(co_await asio::this_coro::executor);
}

awaitable<Result<Decoded>> ModbusDriver::ask(std::chrono::milliseconds timeout) {
  std::vector<std::optional<Registers>> answers;
  std::optional<sensors::Problem> failure;
  for (const auto& read : sensors::reads_of(map_)) {
    auto answer = co_await exchange(read, timeout);
    if (answer) {
      answers.emplace_back(*answer);
      continue;
    }
    failure = answer.error();
    // Silent to one question, silent to all: do not keep the other units of the line waiting.
    if (failure->code == "lost" || failure->code == "silent") co_return *failure;
    answers.emplace_back(std::nullopt);
  }
  auto decoded = sensors::decode_registers(map_, answers);
  if (!decoded && failure) co_return *failure;  // why there is nothing tells more than that
  co_return decoded;
}

awaitable<Result<Registers>> ModbusDriver::exchange(const sensors::ModbusRead& read,
                                                    std::chrono::milliseconds timeout) {
  const auto deadline = std::chrono::steady_clock::now() + timeout;
  auto answer = co_await ask_once(read, deadline);
  if (answer || !is_worth_another_try(answer.error().code)) co_return answer;
  if (std::chrono::steady_clock::now() + timeout / 4 > deadline) co_return answer;
  co_return co_await ask_once(read, deadline);
}

awaitable<Result<Registers>> ModbusDriver::ask_once(const sensors::ModbusRead& read,
                                                    Deadline deadline) {
  if (const auto silent = co_await wait_for_silence(); !silent) co_return silent.error();
  line_->forget_input();
  if (const auto sent = co_await line_->write(sensors::encode_request(read)); !sent) {
    co_return sent.error();
  }
  sensors::ModbusAnswer answer(read);
  while (true) {
    const auto bytes = co_await line_->read_some(deadline);
    if (!bytes) {
      if (bytes.error().code == "silent") co_return answer.unfinished();
      co_return bytes.error();
    }
    const auto* first = reinterpret_cast<const std::uint8_t*>(bytes->data());
    if (auto outcome = answer.feed({first, bytes->size()})) co_return *outcome;
  }
}

awaitable<Result<void>> ModbusDriver::wait_for_silence() {
  const auto patience = std::chrono::steady_clock::now() + kLongestWaitForSilence;
  while (std::chrono::steady_clock::now() < patience) {
    const auto heard = co_await line_->read_some(std::chrono::steady_clock::now() + silence_);
    if (heard) continue;
    if (heard.error().code == "silent") break;
    co_return heard.error();
  }
  co_return Result<void>();
}

}  // namespace takehold::daemon
