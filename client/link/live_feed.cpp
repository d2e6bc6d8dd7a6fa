#include "client/link/live_feed.hpp"

#include <nlohmann/json.hpp>

#include "daemon/http/event_stream.hpp"

namespace takehold::client {

using namespace std::chrono_literals;
using nlohmann::json;
using sensors::Problem;
using sensors::Result;

namespace {

constexpr auto kPause = 2s;  ///< between two tries

}  // namespace

LiveFeed::LiveFeed(LinkOptions options)
    : options_(std::move(options)),
      thread_([this](const std::stop_token& stop) { listen(stop); }) {}

LiveFeed::~LiveFeed() = default;

void LiveFeed::listen(const std::stop_token& stop) {
  const auto on_event = [this](const daemon::ServerEvent& event) {
    if (event.name == "status") tell(std::nullopt, event.data);
    return true;
  };
  daemon::ListenOptions listening;
  listening.http = options_.limits;
  listening.token = options_.token;
  while (!stop.stop_requested()) {
    // What was missed in between is in the log; a new stream begins with the status of now.
    tell(daemon::listen_to_events(options_.endpoint, "/v1/live", "", on_event, stop, listening),
         "");
    std::unique_lock lock(mutex_);
    bell_.wait_for(lock, stop, kPause, [] { return false; });
  }
}

void LiveFeed::tell(std::optional<Problem> trouble, std::string status) {
  const std::lock_guard lock(mutex_);
  trouble_ = std::move(trouble);
  status_ = std::move(status);
  fresh_ = true;
  bell_.notify_all();
}

std::optional<Result<json>> LiveFeed::next(std::chrono::milliseconds wait) {
  std::unique_lock lock(mutex_);
  if (!bell_.wait_for(lock, wait, [this] { return fresh_; })) return std::nullopt;
  fresh_ = false;
  if (trouble_) return Result<json>(*trouble_);
  json document = json::parse(status_, nullptr, false);
  if (document.is_discarded()) {
    return Result<json>(Problem{"bad-answer", "the daemon's answer is no JSON", "", "", ""});
  }
  return Result<json>(boost::system::in_place_value, std::move(document));
}

}  // namespace takehold::client
