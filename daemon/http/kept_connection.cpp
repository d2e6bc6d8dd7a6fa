#include "daemon/http/kept_connection.hpp"

#include <boost/asio/this_coro.hpp>
#include <variant>

#include "daemon/http/one_exchange.hpp"

namespace takehold::daemon {

namespace asio = boost::asio;
using sensors::Result;

/// The stream of the endpoint's kind; TLS brings its context with it.
struct KeptConnection::Line {
  Line(const Endpoint& endpoint, const HttpLimits& limits, const asio::any_io_executor& executor) {
    if (endpoint.kind == Endpoint::Kind::unix_socket) {
      stream.emplace<UnixStream>(executor);
    } else if (endpoint.kind == Endpoint::Kind::tcp) {
      stream.emplace<boost::beast::tcp_stream>(executor);
    } else {
      context.emplace(tls_context(limits));
      stream.emplace<TlsStream>(executor, *context);
    }
  }

  asio::awaitable<void> open(const Endpoint& endpoint, const HttpLimits& limits) {
    if (auto* local = std::get_if<UnixStream>(&stream)) co_await connect(*local, endpoint, limits);
    if (auto* tcp = std::get_if<boost::beast::tcp_stream>(&stream)) {
      co_await connect(*tcp, endpoint, limits);
    }
    if (auto* tls = std::get_if<TlsStream>(&stream)) co_await connect(*tls, endpoint, limits);
    connected = true;
  }

  asio::awaitable<void> talk(OneExchange& exchange, std::chrono::milliseconds within) {
    if (auto* local = std::get_if<UnixStream>(&stream)) co_await talk_on(*local, exchange, within);
    if (auto* tcp = std::get_if<boost::beast::tcp_stream>(&stream)) {
      co_await talk_on(*tcp, exchange, within);
    }
    if (auto* tls = std::get_if<TlsStream>(&stream)) co_await talk_on(*tls, exchange, within);
  }

  template <class Stream>
  static asio::awaitable<void> talk_on(Stream& over, OneExchange& exchange,
                                       std::chrono::milliseconds within) {
    boost::beast::get_lowest_layer(over).expires_after(within);
    co_await exchange.talk(over);
    boost::beast::get_lowest_layer(over).expires_never();
  }

  std::optional<asio::ssl::context> context;
  std::variant<std::monostate, UnixStream, boost::beast::tcp_stream, TlsStream> stream;
  bool connected = false;
};

KeptConnection::KeptConnection(Endpoint endpoint) : endpoint_(std::move(endpoint)) {}
KeptConnection::~KeptConnection() = default;

void KeptConnection::close() {
  line_.reset();
}

asio::awaitable<Result<HttpResponse>> KeptConnection::exchange(HttpRequest request,
                                                               HttpLimits limits) {
  bool stale = false;
  auto answer = co_await attempt(request, limits, stale);
  if (stale) answer = co_await attempt(request, limits, stale);
  co_return answer;
}

asio::awaitable<Result<HttpResponse>> KeptConnection::attempt(const HttpRequest& request,
                                                              const HttpLimits& limits,
                                                              bool& stale) {
  const bool reused = line_ != nullptr;
  OneExchange exchange{endpoint_, request, limits, true};
  std::exception_ptr failure;
  bool connected = reused;
  try {
    if (!reused) {
      line_ = std::make_unique<Line>(endpoint_, limits, co_await asio::this_coro::executor);
      co_await line_->open(endpoint_, limits);
      connected = true;
    }
    co_await line_->talk(exchange, limits.total);
  } catch (...) {
    failure = std::current_exception();
  }
  if (failure || !exchange.kept) line_.reset();
  stale = false;
  if (!failure) co_return std::move(exchange.response);
  auto problem = problem_of(failure, endpoint_, connected);
  stale = reused && !exchange.answered && problem.code == "connection-lost";
  co_return problem;
}

}  // namespace takehold::daemon
