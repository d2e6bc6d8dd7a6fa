#include "daemon/io/modbus_driver.hpp"

namespace takehold::daemon {

using sensors::Decoded;
using sensors::Registers;
using sensors::Result;

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
    if (failure->code == "lost") co_return *failure;
    answers.emplace_back(std::nullopt);
  }
  auto decoded = sensors::decode_registers(map_, answers);
  if (!decoded && failure) co_return *failure;  // why there is nothing tells more than that
  co_return decoded;
}

awaitable<Result<Registers>> ModbusDriver::exchange(const sensors::ModbusRead& read,
                                                    std::chrono::milliseconds timeout) {
  asio::steady_timer pause(co_await asio::this_coro::executor, silence_);
  co_await pause.async_wait(kNoThrow);
  line_->forget_input();
  if (const auto sent = co_await line_->write(sensors::encode_request(read)); !sent) {
    co_return sent.error();
  }
  const auto deadline = std::chrono::steady_clock::now() + timeout;
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

}  // namespace takehold::daemon
