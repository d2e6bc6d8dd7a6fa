// What one notifier still has to deliver: in order, again and again with growing pauses, and a
// flood as one message.
//
// A machine without I/O; times are passed in and never go back. One owner.
#pragma once

#include <chrono>
#include <deque>
#include <optional>
#include <string>

#include "sensors/quantity/calendar.hpp"

namespace takehold::daemon {

class Courier {
 public:
  struct Parcel {
    std::string body;  ///< JSON, one object
    int count = 1;     ///< events it stands for
    sensors::Instant since;
  };

  /// One more thing to tell.
  void offer(std::string body, sensors::Instant at);
  /// What to send now; none: nothing waits, or it is not time yet. It is on its way until sent() is
  /// called, and what is offered meanwhile leaves it alone.
  const Parcel* due(sensors::Instant now);
  /// When to ask again; none: nothing waits.
  std::optional<sensors::Instant> next() const;
  /// How sending the due one went. A failure is tried again after 10 s, then 20, 40 ... up to a
  /// quarter of an hour; what is a day old is given up.
  void sent(bool arrived, sensors::Instant now);

  std::size_t waiting() const { return parcels_.size() + (flying_ ? 1 : 0); }

 private:
  void collapse(sensors::Instant now);

  std::deque<Parcel> parcels_;
  std::optional<Parcel> flying_;
  std::deque<sensors::Instant> offered_;  ///< of the last ten minutes
  int failures_ = 0;
  sensors::Instant not_before_{};
};

}  // namespace takehold::daemon
