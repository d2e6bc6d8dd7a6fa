#include "daemon/io/text_driver.hpp"

namespace takehold::daemon {

using sensors::Decoded;
using sensors::Result;

namespace {

/// The kernel keeps this much of a raw terminal's input and drops what comes after: a full buffer
/// holds old lines, not new ones.
constexpr std::size_t kKernelBuffer = 4095;

}  // namespace

TextDriver::TextDriver(std::shared_ptr<SerialLine> line, sensors::LineDecoder decoder)
    : line_(std::move(line)), decoder_(std::move(decoder)), splitter_(decoder_.max_line()) {}

awaitable<Result<void>> TextDriver::open() {
  const bool was_open = line_->is_open();
  auto opened = line_->open(co_await asio::this_coro::executor);
  if (opened && !was_open) splitter_.reset();
  co_return opened;
}

awaitable<Result<Decoded>> TextDriver::ask(std::chrono::milliseconds timeout) {
  const auto deadline = std::chrono::steady_clock::now() + timeout;
  if (const auto taken = take_waiting(); !taken) co_return taken.error();
  while (true) {
    if (auto found = newest()) co_return *found;
    const auto bytes = co_await line_->read_some(deadline);
    if (!bytes) co_return bytes.error();
    splitter_.feed(*bytes);
  }
}

void TextDriver::close() {
  line_->close();
  splitter_.reset();
}

Result<void> TextDriver::take_waiting() {
  const auto bytes = line_->read_waiting();
  if (!bytes) return bytes.error();
  if (bytes->size() >= kKernelBuffer) {
    splitter_.reset();
  } else {
    splitter_.feed(*bytes);
  }
  return {};
}

std::optional<Result<Decoded>> TextDriver::newest() {
  std::optional<Result<Decoded>> found;
  while (auto line = splitter_.next()) {
    auto decoded = *line ? decoder_.decode(**line) : Result<Decoded>(line->error());
    if (decoded || !found || !*found) found = std::move(decoded);
  }
  return found;
}

}  // namespace takehold::daemon
