#include "daemon/io/listener.hpp"

#include <spdlog/spdlog.h>
#include <sys/stat.h>

#include <boost/asio/connect.hpp>
#include <boost/asio/ip/address.hpp>
#include <boost/asio/ip/v6_only.hpp>
#include <filesystem>
#include <utility>

#include "daemon/io/session.hpp"
#include "daemon/io/socket_file.hpp"

namespace takehold::daemon {

using sensors::Problem;
using sensors::Refused;
using Local = asio::local::stream_protocol;

namespace {

constexpr int kMostConnections = 160;

}  // namespace

Listener::Listener(const asio::any_io_executor& executor, const Settings& settings,
                   Interface& interface, LiveStream& live)
    : executor_(executor),
      settings_(settings),
      interface_(interface),
      live_(live),
      local_(executor) {
  open_socket();
  if (settings.tcp) open_tcp();
}

Listener::~Listener() {
  stop();
}

void Listener::open_socket() {
  const auto path = settings_.socket.string();
  try {
    std::filesystem::create_directories(settings_.socket.parent_path());
    if (std::filesystem::is_socket(settings_.socket)) {
      if (somebody_answers(settings_.socket)) {
        throw Refused({"already-running", "another chamberd answers there", "", path,
                       "stop it, or give this one another socket"});
      }
      std::filesystem::remove(settings_.socket);
    }
    local_.open(Local());
    const mode_t before = ::umask(0117);  // 0660 from the very first moment
    boost::system::error_code error;
    local_.bind(Local::endpoint(path), error);
    ::umask(before);
    if (error) throw boost::system::system_error(error);
    local_.listen();
  } catch (const std::exception& error) {
    if (dynamic_cast<const Refused*>(&error) != nullptr) throw;
    throw Refused({"cannot-listen", "cannot listen there", error.what(), path, ""});
  }
}

void Listener::open_tcp() {
  const auto& [host, port, token_file] = *settings_.tcp;
  gate_.emplace(load_tokens(token_file.string()), std::vector<std::string>{host}, port);
  boost::system::error_code error;
  const auto address = asio::ip::make_address(host == "localhost" ? "127.0.0.1" : host, error);
  if (error) {
    throw Refused({"cannot-listen", "not an address of this machine", host, "listen.tcp",
                   "write a number such as 127.0.0.1"});
  }
  const asio::ip::tcp::endpoint endpoint(address, static_cast<unsigned short>(port));
  try {
    tcp_.emplace(executor_, endpoint, true);
  } catch (const boost::system::system_error& failed) {
    throw Refused({"cannot-listen", "cannot listen there", failed.what(),
                   host + ":" + std::to_string(port), ""});
  }
}

void Listener::start() {
  asio::co_spawn(executor_, accept(local_), asio::detached);
  if (tcp_) asio::co_spawn(executor_, accept(*tcp_), asio::detached);
}

void Listener::stop() {
  if (!local_.is_open()) return;
  boost::system::error_code ignored;
  local_.close(ignored);
  if (tcp_) tcp_->close(ignored);
  std::error_code unimportant;
  std::filesystem::remove(settings_.socket, unimportant);
}

template <class Acceptor>
awaitable<void> Listener::accept(Acceptor& acceptor) {
  while (acceptor.is_open()) {
    auto [error, socket] = co_await acceptor.async_accept(kNoThrow);
    if (!acceptor.is_open()) co_return;
    if (error) {  // out of descriptors, or a peer that gave up: rest a little, then go on
      spdlog::warn("listen: {}", error.message());
      asio::steady_timer rest(executor_, std::chrono::milliseconds(200));
      co_await rest.async_wait(kNoThrow);
      continue;
    }
    if (connections_ >= kMostConnections) {  // closed by its destructor
      spdlog::warn("listen: {} connections are open, one more was closed", connections_);
      continue;
    }
    asio::co_spawn(executor_, serve(std::move(socket)), asio::detached);
  }
}

template <class Socket>
awaitable<void> Listener::serve(Socket socket) {
  ++connections_;
  try {
    co_await run_session(std::move(socket), interface_, live_, gate_ ? &*gate_ : nullptr);
  } catch (const std::exception& error) {
    spdlog::debug("listen: session ended: {}", error.what());
  }
  --connections_;
}

}  // namespace takehold::daemon
