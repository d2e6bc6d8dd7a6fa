// Listening to a server that tells what happens: server-sent events over any endpoint.
#pragma once

#include <chrono>
#include <functional>
#include <optional>
#include <stop_token>
#include <string>

#include "daemon/http/event_parser.hpp"
#include "daemon/http/exchange.hpp"

namespace takehold::daemon {

struct ListenOptions {
  HttpLimits http{};
  std::optional<std::string> token{};  ///< sent as Bearer
  /// A stream on which not even a comment came for so long is dead. Ours send one every 15 s.
  std::chrono::milliseconds silence{45000};
};

/// Blocks, and calls `on_event` in the order of events, in this thread, until it returns false or
/// `stop` is asked for: then null. Otherwise why the stream ended, with exchange's codes and
///   "closed"        the server ended it
///   "http-404" ...  the server refused; title and detail are its own
/// It does not come back by itself: the caller does, with the id of the last event it got as
/// `last_id`, so that nothing is missed.
std::optional<sensors::Problem> listen_to_events(
    const Endpoint& endpoint, const std::string& path, const std::string& last_id,
    const std::function<bool(const ServerEvent&)>& on_event, std::stop_token stop = {},
    const ListenOptions& options = {});

}  // namespace takehold::daemon
