#include "daemon/http/endpoint.hpp"

#include <boost/url/parse.hpp>
#include <boost/url/url_view.hpp>
#include <charconv>

namespace takehold::daemon {
namespace {

using sensors::Problem;
using sensors::Result;

constexpr std::string_view kUnix = "unix:";
constexpr std::size_t kLongestSocketPath = 107;  // sun_path of Linux, without its end

Problem bad_address(std::string_view text, std::string why) {
  return {"bad-address", "not an address of a server", "\"" + std::string(text) + "\": " + why, "",
          "write unix:PATH, http://HOST:PORT or https://HOST"};
}

/// From 1 to 65535, or 0. Boost.URL 1.81 does not tell a number that is too large.
std::uint16_t port_of(std::string_view digits) {
  std::uint16_t port = 0;
  const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), port);
  return error == std::errc() && end == digits.data() + digits.size() ? port : 0;
}

Result<Endpoint> socket_at(std::string_view text) {
  const auto path = text.substr(kUnix.size());
  if (path.empty()) return bad_address(text, "the path is missing");
  if (path.size() > kLongestSocketPath) return bad_address(text, "the path is too long");
  if (path.find('\0') != std::string_view::npos) return bad_address(text, "bad character");
  return Endpoint{Endpoint::Kind::unix_socket, std::string(path), 0};
}

}  // namespace

Result<HttpAddress> HttpAddress::parse(std::string_view text) {
  const auto url = boost::urls::parse_uri({text.data(), text.size()});
  if (!url) return bad_address(text, "it is no URL");
  HttpAddress address;
  const bool tls = url->scheme_id() == boost::urls::scheme::https;
  if (!tls && url->scheme_id() != boost::urls::scheme::http) {
    return bad_address(text, "only http and https are spoken");
  }
  if (url->has_userinfo()) return bad_address(text, "a name or password has no place in it");
  if (url->has_fragment()) return bad_address(text, "a fragment is never sent");
  const std::uint16_t usual = tls ? 443 : 80;
  const std::uint16_t port = url->has_port() ? port_of(url->port()) : usual;
  if (port == 0) return bad_address(text, "a port is from 1 to 65535");
  std::string host = url->host_address();
  if (host.empty()) return bad_address(text, "the host is missing");
  address.endpoint = {tls ? Endpoint::Kind::tls : Endpoint::Kind::tcp, std::move(host), port};
  address.target = std::string(url->encoded_target());
  if (address.target.empty() || address.target.front() != '/') {
    address.target.insert(address.target.begin(), '/');
  }
  return address;
}

Result<Endpoint> Endpoint::parse(std::string_view text) {
  if (text.starts_with(kUnix)) return socket_at(text);
  const auto address = HttpAddress::parse(text);
  if (!address) return address.error();
  if (address->target != "/") return bad_address(text, "no path belongs here");
  return address->endpoint;
}

std::string Endpoint::host_header() const {
  if (kind == Kind::unix_socket) return "chamber";
  const std::string name = host.find(':') == std::string::npos ? host : "[" + host + "]";
  const std::uint16_t usual = kind == Kind::tls ? 443 : 80;
  return port == usual ? name : name + ":" + std::to_string(port);
}

std::string Endpoint::text() const {
  if (kind == Kind::unix_socket) return std::string(kUnix) + host;
  return (kind == Kind::tls ? "https://" : "http://") + host_header();
}

}  // namespace takehold::daemon
