#include "daemon/http/event_stream.hpp"

#include <array>
#include <boost/asio/co_spawn.hpp>
#include <boost/asio/io_context.hpp>
#include <boost/asio/redirect_error.hpp>
#include <boost/beast/core/flat_buffer.hpp>
#include <boost/beast/http/buffer_body.hpp>
#include <boost/beast/http/parser.hpp>
#include <boost/beast/http/read.hpp>
#include <boost/beast/http/write.hpp>

#include "daemon/http/connection.hpp"

namespace takehold::daemon {
namespace {

namespace asio = boost::asio;
namespace http = boost::beast::http;
using sensors::Problem;

/// Asks for a stream of events and hands them on until somebody has enough.
struct Listening {
  const Endpoint& endpoint;
  const HttpRequest& request;
  const ListenOptions& options;
  const std::function<bool(const ServerEvent&)>& on_event;
  EventParser events;
  bool enough = false;

  template <class Stream>
  asio::awaitable<void> talk(Stream& stream) {
    const auto wire = wire_request(endpoint, request);
    co_await http::async_write(stream, wire, asio::use_awaitable);
    http::response_parser<http::buffer_body> parser;
    parser.header_limit(options.http.header_bytes);
    parser.body_limit(boost::none);
    boost::beast::flat_buffer buffer;
    co_await http::async_read_header(stream, buffer, parser, asio::use_awaitable);
    check_answer(parser.get());
    while (!enough && !parser.is_done()) {
      boost::beast::get_lowest_layer(stream).expires_after(options.silence);
      co_await read_some(stream, buffer, parser);
    }
  }

  template <class Stream, class Parser>
  asio::awaitable<void> read_some(Stream& stream, boost::beast::flat_buffer& buffer,
                                  Parser& parser) {
    std::array<char, 4096> bytes;
    auto& body = parser.get().body();
    body.data = bytes.data();
    body.size = bytes.size();
    boost::system::error_code error;
    co_await http::async_read_some(stream, buffer, parser,
                                   asio::redirect_error(asio::use_awaitable, error));
    if (error && error != http::error::need_buffer) throw boost::system::system_error(error);
    hand_on(std::string_view(bytes.data(), bytes.size() - body.size));
  }

  void hand_on(std::string_view bytes) {
    for (const ServerEvent& event : events.feed(bytes)) {
      if (enough) return;
      enough = !on_event(event);
    }
    if (events.overflowed()) {
      throw sensors::Refused({"too-large", "an event is too large", "", endpoint.text(), ""});
    }
  }

  template <class Answer>
  void check_answer(const Answer& answer) {
    const auto type = answer[http::field::content_type];
    if (answer.result_int() == 200 && type.starts_with("text/event-stream")) return;
    if (answer.result_int() == 200) {
      throw sensors::Refused({"bad-answer", "the answer is no stream of events", std::string(type),
                              endpoint.text(), ""});
    }
    throw sensors::Refused({"http-" + std::to_string(answer.result_int()),
                            "the server does not let us listen", std::string(answer.reason()),
                            endpoint.text(), ""});
  }
};

asio::awaitable<std::optional<Problem>> listen(Listening& listening) {
  const auto failure =
      co_await over_connection(listening.endpoint, listening.options.http, listening);
  if (failure || listening.enough) co_return failure;
  co_return Problem{"closed", "the server ended the stream", "", listening.endpoint.text(), ""};
}

HttpRequest stream_request(const std::string& path, const std::string& last_id,
                           const ListenOptions& options) {
  HttpRequest request;
  request.target = path;
  request.headers = {{"Accept", "text/event-stream"}, {"Cache-Control", "no-store"}};
  if (!last_id.empty()) request.headers.emplace_back("Last-Event-ID", last_id);
  if (options.token) request.headers.emplace_back("Authorization", "Bearer " + *options.token);
  return request;
}

}  // namespace

std::optional<Problem> listen_to_events(const Endpoint& endpoint, const std::string& path,
                                        const std::string& last_id,
                                        const std::function<bool(const ServerEvent&)>& on_event,
                                        std::stop_token stop, const ListenOptions& options) {
  const HttpRequest request = stream_request(path, last_id, options);
  Listening listening{endpoint, request, options, on_event, EventParser(last_id)};
  std::optional<Problem> ending;
  std::exception_ptr failure;
  asio::io_context context(1);
  asio::co_spawn(context, listen(listening),
                 [&](std::exception_ptr thrown, std::optional<Problem> why) {
                   failure = thrown;
                   ending = std::move(why);
                 });
  const std::stop_callback on_stop(stop, [&] { context.stop(); });  // from another thread
  context.run();
  if (stop.stop_requested()) return std::nullopt;
  if (failure) std::rethrow_exception(failure);  // thrown by on_event
  return ending;
}

}  // namespace takehold::daemon
