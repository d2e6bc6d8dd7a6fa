#include "daemon/io/serial_line.hpp"

#include <termios.h>
#include <unistd.h>

#include <array>
#include <boost/asio/buffer.hpp>
#include <boost/asio/experimental/awaitable_operators.hpp>
#include <boost/asio/write.hpp>
#include <cerrno>
#include <cstring>

#include "daemon/io/serial_port.hpp"

namespace takehold::daemon {

using sensors::Problem;
using sensors::Result;

namespace {

/// A plain `return text;` could mean either side of the result.
Result<std::string> text_result(std::string text) {
  return Result<std::string>(boost::system::in_place_value, std::move(text));
}

}  // namespace

Result<void> SerialLine::open(const asio::any_io_executor& executor) {
  if (descriptor_) return {};
  const auto line = open_serial(device_, form_);
  if (!line) return line.error();
  descriptor_.emplace(executor, *line);
  return {};
}

void SerialLine::forget_input() {
  if (descriptor_) ::tcflush(descriptor_->native_handle(), TCIFLUSH);
}

awaitable<Result<std::string>> SerialLine::read_some(
    std::chrono::steady_clock::time_point deadline) {
  if (!descriptor_) co_return lost("not open");
  asio::steady_timer timer(descriptor_->get_executor(), deadline);
  std::array<char, 512> bytes;
  using namespace asio::experimental::awaitable_operators;
  const auto first = co_await (descriptor_->async_read_some(asio::buffer(bytes), kNoThrow) ||
                               timer.async_wait(kNoThrow));
  if (first.index() == 1) co_return Problem{"silent", "nothing came", "", device_, ""};
  const auto [error, count] = std::get<0>(first);
  if (error) co_return lost(error.message());
  co_return text_result({bytes.data(), count});
}

Result<std::string> SerialLine::read_waiting() {
  if (!descriptor_) return lost("not open");
  std::string all;
  std::array<char, 512> bytes;
  while (true) {
    const auto count = ::read(descriptor_->native_handle(), bytes.data(), bytes.size());
    if (count > 0) {
      all.append(bytes.data(), std::size_t(count));
      continue;
    }
    if (count < 0 && errno == EINTR) continue;
    if (count < 0 && errno == EAGAIN) return text_result(std::move(all));
    return lost(count == 0 ? "hung up" : std::strerror(errno));
  }
}

awaitable<Result<void>> SerialLine::write(std::span<const std::uint8_t> bytes) {
  if (!descriptor_) co_return lost("not open");
  const auto [error, count] =
      co_await asio::async_write(*descriptor_, asio::buffer(bytes.data(), bytes.size()), kNoThrow);
  if (error) co_return lost(error.message());
  co_return Result<void>();
}

Problem SerialLine::lost(const std::string& why) const {
  return {"lost", "the line broke", why, device_, ""};
}

}  // namespace takehold::daemon
