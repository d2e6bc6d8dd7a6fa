#include "daemon/io/text_feed.hpp"

#include "sensors/codec/line_decoder.hpp"

namespace takehold::daemon {

using sensors::Result;

namespace {

/// The kernel keeps this much of a raw terminal's input and drops what comes after: a full buffer
/// holds old lines, not new ones.
constexpr std::size_t kKernelBuffer = 4095;
constexpr std::size_t kKeptLines = 64;

}  // namespace

TextFeed::TextFeed(std::shared_ptr<SerialLine> line)
    : line_(std::move(line)), splitter_(sensors::kMaxJsonLine) {}

Result<void> TextFeed::open(const asio::any_io_executor& executor) {
  const bool was_open = line_->is_open();
  auto opened = line_->open(executor);
  if (opened && !was_open) {
    splitter_.reset();
    lines_.clear();
  }
  return opened;
}

void TextFeed::close() {
  line_->close();
  splitter_.reset();
  lines_.clear();
}

Result<void> TextFeed::take_waiting() {
  const auto bytes = line_->read_waiting();
  if (!bytes) return bytes.error();
  if (bytes->size() >= kKernelBuffer) {
    splitter_.reset();
  } else {
    take(*bytes);
  }
  return {};
}

awaitable<Result<void>> TextFeed::wait(std::chrono::steady_clock::time_point deadline) {
  const auto bytes = co_await line_->read_some(deadline);
  if (!bytes) co_return bytes.error();
  take(*bytes);
  co_return Result<void>();
}

void TextFeed::take(const std::string& bytes) {
  splitter_.feed(bytes);
  while (auto line = splitter_.next()) {
    lines_.push_back({++count_, *std::move(line)});
    if (lines_.size() > kKeptLines) lines_.pop_front();
  }
}

}  // namespace takehold::daemon
