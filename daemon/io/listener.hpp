// Accepts connections on the Unix socket and, if asked for, on TCP.
//
// Bounded in every way: header 8 KiB, body 1 MiB, 10 s a request, 160 connections; one more is
// closed at once. A session that fails ends alone.
#pragma once

#include <boost/asio/ip/tcp.hpp>
#include <boost/asio/local/stream_protocol.hpp>
#include <memory>
#include <optional>

#include "daemon/io/asio.hpp"
#include "daemon/io/gate.hpp"
#include "daemon/io/interface.hpp"
#include "daemon/io/live_stream.hpp"
#include "daemon/settings/settings.hpp"

namespace takehold::daemon {

class Listener {
 public:
  /// Binds at once. Throws Refused: "already-running" (a live socket), "cannot-listen". A dead
  /// socket file is replaced; the new one has mode 0660.
  Listener(const asio::any_io_executor& executor, const Settings& settings, Interface& interface,
           LiveStream& live);
  ~Listener();

  /// Accepts until stop().
  void start();
  /// Accepts no more, and removes the socket file.
  void stop();

 private:
  template <class Acceptor>
  awaitable<void> accept(Acceptor& acceptor);
  template <class Socket>
  awaitable<void> serve(Socket socket);
  void open_socket();
  void open_tcp();

  asio::any_io_executor executor_;
  const Settings& settings_;
  Interface& interface_;
  LiveStream& live_;
  asio::local::stream_protocol::acceptor local_;
  std::optional<asio::ip::tcp::acceptor> tcp_;
  std::optional<Gate> gate_;
  int connections_ = 0;
};

}  // namespace takehold::daemon
