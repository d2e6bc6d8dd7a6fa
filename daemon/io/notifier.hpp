// Tells the grower: a command, or a server, for each [[notify]], with the event's JSON.
//
// What does not arrive is sent again with growing pauses, and a flood as one message (Courier). A
// dangerous warning that nobody answered is told again every quarter of an hour. What was told
// before a restart is not told again: standing warnings are taken up from the log, not raised anew.
// Nothing here holds up the watch. One thread.
#pragma once

#include <list>

#include "daemon/io/asio.hpp"
#include "daemon/io/keeper.hpp"
#include "daemon/settings/settings.hpp"
#include "daemon/watch/courier.hpp"

namespace takehold::daemon {

/// How sending went: empty when it arrived, else why not.
using Delivery = std::string;

/// Sends one body once: a command gets it on its stdin and has 30 s, a server gets it by POST.
awaitable<Delivery> deliver(const NotifySettings& notify, std::string body);

class Notifiers {
 public:
  /// Listens to `keeper`, which must outlive it.
  Notifiers(asio::io_context& context, const Settings& settings, Keeper& keeper);

 private:
  struct Post {
    Post(const NotifySettings& notify, asio::io_context& context)
        : settings(notify), bell(context) {}
    const NotifySettings& settings;
    Courier courier;
    asio::steady_timer bell;  ///< rung when something was offered
  };

  void tell(const LoggedRound& round);
  void offer(const Event& event, sensors::Instant now);
  awaitable<void> work(Post& post);
  awaitable<void> remind();
  awaitable<void> be_alive();

  asio::io_context& context_;
  const Settings& settings_;
  const Keeper& keeper_;
  std::list<Post> posts_;
};

}  // namespace takehold::daemon
