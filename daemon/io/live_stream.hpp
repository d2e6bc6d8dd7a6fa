// Server-sent events for whoever listens to /v1/live.
//
// Each listener has a bounded queue; what does not fit is taken from the log, piece by piece, as it
// reads. One that reads too slowly for a piece is let go by its session, and finds what it missed
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
    LogRow last_row = 0;  ///< the newest of those it was given
    bool behind = false;  ///< what came after stands in the log and not in `waiting`
    bool closed = false;
    asio::steady_timer bell;  ///< cancelled when something waits
  };

  /// Listens to `keeper`, which must outlive it.
  LiveStream(Keeper& keeper, LogReader& reader);

  /// From now on; with `after`, preceded by all that the log holds after that row.
  std::shared_ptr<Subscriber> subscribe(const asio::any_io_executor& executor,
                                        std::optional<LogRow> after);
  /// The next piece for one that is behind and has nothing waiting.
  void catch_up(Subscriber& subscriber);
  void close_all();

 private:
  std::string status_now() const;
  void tell(const LoggedRound& round);

  Keeper& keeper_;
  LogReader& reader_;
  std::list<std::weak_ptr<Subscriber>> subscribers_;
};

}  // namespace takehold::daemon
