#include "daemon/io/text_driver.hpp"

namespace takehold::daemon {

using sensors::Decoded;
using sensors::Result;

awaitable<Result<void>> TextDriver::open() {
  co_return feed_->open(co_await asio::this_coro::executor);
}

awaitable<Result<Decoded>> TextDriver::ask(std::chrono::milliseconds timeout) {
  const auto deadline = std::chrono::steady_clock::now() + timeout;
  if (const auto taken = feed_->take_waiting(); !taken) co_return taken.error();
  std::optional<Result<Decoded>> last;
  while (true) {
    if (auto found = newest()) last = std::move(found);
    if (last && *last) co_return *last;
    if (const auto came = co_await feed_->wait(deadline); !came) {
      if (last && came.error().code == "silent") co_return *last;
      co_return came.error();
    }
  }
}

std::optional<Result<Decoded>> TextDriver::newest() {
  std::optional<Result<Decoded>> found;
  for (const auto& [number, text] : feed_->lines()) {
    if (number <= heard_) continue;
    heard_ = number;
    // A pattern that needs too much work for one line may for each of many: let the rest go.
    if (found && !*found && found->error().code == "pattern-too-slow") continue;
    auto decoded = text ? decoder_.decode(*text) : Result<Decoded>(text.error());
    if (decoded || !found || !*found) found = std::move(decoded);
  }
  return found;
}

}  // namespace takehold::daemon
