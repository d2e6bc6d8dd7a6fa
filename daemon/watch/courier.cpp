#include "daemon/watch/courier.hpp"

#include <algorithm>

namespace takehold::daemon {

using sensors::Instant;
using namespace std::chrono_literals;

namespace {

// More than ten in ten minutes is a flood (alarm practice, EEMUA 191).
constexpr std::size_t kFlood = 10;
constexpr auto kFloodWithin = 10min;
constexpr auto kFirstPause = 10s;
constexpr auto kLongestPause = 15min;
constexpr auto kGivenUpAfter = 24h;

}  // namespace

void Courier::offer(std::string body, Instant at) {
  while (!offered_.empty() && at - offered_.front() > kFloodWithin) offered_.pop_front();
  offered_.push_back(at);
  parcels_.push_back({std::move(body), 1, at});
  if (offered_.size() > kFlood) collapse(at);
}

/// The newest stands for all that waits: who is flooded needs the present, not the history.
void Courier::collapse(Instant now) {
  Parcel all = std::move(parcels_.back());
  parcels_.pop_back();
  for (const auto& parcel : parcels_) {
    all.count += parcel.count;
    all.since = std::min(all.since, parcel.since);
  }
  parcels_.assign(1, std::move(all));
  not_before_ = std::max(not_before_, now + 60s);  // gather for a minute
}

const Courier::Parcel* Courier::due(Instant now) {
  if (flying_) return &*flying_;
  if (parcels_.empty() || now < not_before_) return nullptr;
  flying_ = std::move(parcels_.front());
  parcels_.pop_front();
  return &*flying_;
}

std::optional<Instant> Courier::next() const {
  if (parcels_.empty()) return std::nullopt;
  return std::max(not_before_, parcels_.front().since);
}

void Courier::sent(bool arrived, Instant now) {
  if (!flying_) return;
  Parcel parcel = *std::move(flying_);
  flying_.reset();
  if (arrived || now - parcel.since > kGivenUpAfter) {
    failures_ = 0;
    not_before_ = now;
    return;
  }
  parcels_.push_front(std::move(parcel));
  const auto pause = kFirstPause * (1 << std::min(failures_++, 10));
  not_before_ = now + std::min<std::chrono::milliseconds>(pause, kLongestPause);
}

}  // namespace takehold::daemon
