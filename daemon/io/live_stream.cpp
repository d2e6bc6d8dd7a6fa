#include "daemon/io/live_stream.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "daemon/io/messages.hpp"

namespace takehold::daemon {

using nlohmann::json;

namespace {

constexpr std::size_t kMostWaiting = 512;  ///< blocks in memory; what comes beyond is in the log
constexpr int kPiece = 250;                ///< rows of the log taken up at once

std::string block(const char* event, std::optional<LogRow> row, const json& data) {
  // Row 0 is not written yet: whoever comes back later is given it with its row.
  std::string text = row.value_or(0) > 0 ? fmt::format("id: {}\n", *row) : "";
  return text + fmt::format("event: {}\ndata: {}\n\n", event, json_text(data));
}

struct Block {
  LogRow row;
  std::string text;
};

template <class Readings, class Events>
std::vector<Block> blocks_of(const Readings& readings, const Events& events) {
  std::vector<Block> blocks;
  for (const auto& [row, reading] : readings) {
    blocks.push_back({row, block("reading", row, reading_message(reading))});
  }
  for (const auto& [row, event] : events) {
    blocks.push_back({row, block(to_string(event.type), row, event_message(event))});
  }
  std::stable_sort(blocks.begin(), blocks.end(),
                   [](const Block& a, const Block& b) { return a.row < b.row; });
  return blocks;
}

void give(LiveStream::Subscriber& subscriber, const std::vector<Block>& blocks) {
  for (const auto& one : blocks) {
    subscriber.waiting.push_back(one.text);
    subscriber.last_row = std::max(subscriber.last_row, one.row);
  }
}

}  // namespace

LiveStream::Subscriber::Subscriber(const asio::any_io_executor& executor) : bell(executor) {}

LiveStream::LiveStream(Keeper& keeper, LogReader& reader) : keeper_(keeper), reader_(reader) {
  keeper_.on_round([this](const LoggedRound& round) { tell(round); });
}

std::string LiveStream::status_now() const {
  return block("status", std::nullopt, status_message(keeper_, wall_clock()));
}

std::shared_ptr<LiveStream::Subscriber> LiveStream::subscribe(const asio::any_io_executor& executor,
                                                              std::optional<LogRow> after) {
  auto subscriber = std::make_shared<Subscriber>(executor);
  subscriber->last_row = after.value_or(keeper_.log().last_row());
  subscriber->behind = after.has_value();
  if (!after) subscriber->waiting.push_back(status_now());
  subscribers_.push_back(subscriber);
  return subscriber;
}

void LiveStream::catch_up(Subscriber& subscriber) {
  const auto missed = reader_.since(subscriber.last_row, kPiece);
  const auto blocks = blocks_of(missed.readings, missed.events);
  give(subscriber, blocks);
  if (!blocks.empty()) return;
  subscriber.behind = false;
  subscriber.waiting.push_back(status_now());
}

void LiveStream::tell(const LoggedRound& round) {
  subscribers_.remove_if([](const auto& weak) { return weak.expired(); });
  if (subscribers_.empty()) return;
  const auto blocks = blocks_of(round.readings, round.events);
  const auto status = status_now();
  for (const auto& weak : subscribers_) {
    const auto subscriber = weak.lock();
    if (!subscriber || subscriber->behind) continue;
    if (subscriber->waiting.size() + blocks.size() >= kMostWaiting) {
      subscriber->behind = true;
    } else {
      give(*subscriber, blocks);
      subscriber->waiting.push_back(status);
    }
    subscriber->bell.cancel();
  }
}

void LiveStream::close_all() {
  for (const auto& weak : subscribers_) {
    if (const auto subscriber = weak.lock()) {
      subscriber->closed = true;
      subscriber->bell.cancel();
    }
  }
}

}  // namespace takehold::daemon
