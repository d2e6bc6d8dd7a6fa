// Server-sent events for whoever listens to /v1/live.
//
// Each listener has a bounded queue; one that does not keep up is let go, and finds what it missed
// by the row it saw last. One thread.
#pragma once

#include <deque>
#include <list>
#include <memory>
#include <string>

#include "daemon/io/asio.hpp"
#include "daemon/io/keeper.hpp"
#include "daemon/log/log_reader.hpp"

namespace takehold::daemon {

class LiveStream {
 public:
  /// One connection's share of the stream.
  struct Subscriber {
    explicit Subscriber(const asio::any_io_executor& executor);
    std::deque<std::string> waiting;
    bool closed = false;
    asio::steady_timer bell;  ///< cancelled when something waits
  };

  /// Listens to `keeper`, which must outlive it.
  LiveStream(Keeper& keeper, LogReader& reader);

  /// From now on; with `after`, preceded by what the log holds after that row (a bounded part).
  std::shared_ptr<Subscriber> subscribe(const asio::any_io_executor& executor,
                                        std::optional<LogRow> after);
  void close_all();

 private:
  void tell(const LoggedRound& round);

  Keeper& keeper_;
  LogReader& reader_;
  std::list<std::weak_ptr<Subscriber>> subscribers_;
};

}  // namespace takehold::daemon
