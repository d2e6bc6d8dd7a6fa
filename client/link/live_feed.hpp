// Hearing what the chamber is now, as the daemon tells it: its stream of events in a thread of its
// own.
//
// Owned and asked by one thread. A stream that ends is taken up again by itself, every two seconds.
#pragma once

#include <chrono>
#include <condition_variable>
#include <mutex>
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <thread>

#include "client/link/link.hpp"
#include "sensors/quantity/problem.hpp"

namespace takehold::client {

class LiveFeed {
 public:
  /// Begins to listen.
  explicit LiveFeed(LinkOptions options);
  /// Ends at once, whatever it waits for.
  ~LiveFeed();
  LiveFeed(const LiveFeed&) = delete;
  LiveFeed& operator=(const LiveFeed&) = delete;

  /// A status as /v1/status has it, or why there is none; each is told once. Several that came
  /// since the last call: the newest. None: nothing came for `wait`.
  std::optional<sensors::Result<nlohmann::json>> next(std::chrono::milliseconds wait);

 private:
  void listen(const std::stop_token& stop);
  void tell(std::optional<sensors::Problem> trouble, std::string status);

  const LinkOptions options_;
  std::mutex mutex_;
  std::condition_variable_any bell_;
  bool fresh_ = false;
  std::string status_;
  std::optional<sensors::Problem> trouble_;
  std::jthread thread_;  ///< last: it ends before the rest goes
};

}  // namespace takehold::client
