// A probe that tells by itself, line by line, on a serial line.
#pragma once

#include <memory>

#include "daemon/io/driver.hpp"
#include "daemon/io/text_feed.hpp"
#include "sensors/codec/line_decoder.hpp"

namespace takehold::daemon {

/// The newest line since the last poll that is a reading counts; if there is none, the next to come
/// does. Lines that are none, as those of another probe on the same wire, are passed over; if there
/// were only such, the last of them says why there is no reading.
class TextDriver final : public Driver {
 public:
  TextDriver(std::shared_ptr<TextFeed> feed, sensors::LineDecoder decoder)
      : feed_(std::move(feed)), decoder_(std::move(decoder)) {}

  awaitable<sensors::Result<void>> open() override;
  awaitable<sensors::Result<sensors::Decoded>> ask(std::chrono::milliseconds timeout) override;
  void close() override { feed_->close(); }

 private:
  std::optional<sensors::Result<sensors::Decoded>> newest();

  std::shared_ptr<TextFeed> feed_;
  sensors::LineDecoder decoder_;
  std::int64_t heard_ = 0;  ///< the number of the newest line looked at
};

}  // namespace takehold::daemon
