// One request written and one answer read, over any stream. For the sources of this folder only.
#pragma once

#include <boost/asio/awaitable.hpp>
#include <boost/asio/use_awaitable.hpp>
#include <boost/beast/core/flat_buffer.hpp>
#include <boost/beast/http/parser.hpp>
#include <boost/beast/http/read.hpp>
#include <boost/beast/http/write.hpp>

#include "daemon/http/connection.hpp"

namespace takehold::daemon {

HttpResponse response_of(boost::beast::http::response<boost::beast::http::string_body>&& answer);

struct OneExchange {
  const Endpoint& endpoint;
  const HttpRequest& request;
  const HttpLimits& limits;
  bool keep = false;  ///< ask the server to leave the connection open
  HttpResponse response = {};
  bool kept = false;      ///< it will, and nothing is left unread
  bool answered = false;  ///< at least a byte came

  template <class Stream>
  boost::asio::awaitable<void> talk(Stream& stream) {
    namespace http = boost::beast::http;
    const auto wire = wire_request(endpoint, request, keep);
    co_await http::async_write(stream, wire, boost::asio::use_awaitable);
    http::response_parser<http::string_body> parser;
    parser.header_limit(limits.header_bytes);
    parser.body_limit(limits.body_bytes);
    parser.skip(request.method == "HEAD");
    boost::beast::flat_buffer buffer;
    co_await http::async_read_header(stream, buffer, parser, boost::asio::use_awaitable);
    answered = true;
    co_await http::async_read(stream, buffer, parser, boost::asio::use_awaitable);
    kept = keep && parser.keep_alive() && buffer.size() == 0;
    response = response_of(parser.release());
  }
};

}  // namespace takehold::daemon
