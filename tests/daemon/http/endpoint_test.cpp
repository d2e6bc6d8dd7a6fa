#include "daemon/http/endpoint.hpp"

#include <gtest/gtest.h>

namespace takehold::daemon {
namespace {

using Kind = Endpoint::Kind;

TEST(Endpoint, each_kind_is_read_and_written_back) {
  EXPECT_EQ(Endpoint::parse("unix:/run/x.sock").value(),
            (Endpoint{Kind::unix_socket, "/run/x.sock", 0}));
  EXPECT_EQ(Endpoint::parse("http://127.0.0.1:7453").value(),
            (Endpoint{Kind::tcp, "127.0.0.1", 7453}));
  EXPECT_EQ(Endpoint::parse("http://chamber/").value(), (Endpoint{Kind::tcp, "chamber", 80}));
  EXPECT_EQ(Endpoint::parse("https://chamber").value(), (Endpoint{Kind::tls, "chamber", 443}));
  EXPECT_EQ(Endpoint::parse("http://[::1]:80").value(), (Endpoint{Kind::tcp, "::1", 80}));
  for (const char* text : {"unix:/run/x.sock", "http://127.0.0.1:7453", "http://chamber",
                           "https://chamber:8443", "http://[::1]:7453"}) {
    EXPECT_EQ(Endpoint::parse(text).value().text(), text);
  }
}

// RFC 9110, 7.2: Host leaves out the port that the scheme implies; RFC 3986, 3.2.2: brackets.
TEST(Endpoint, the_host_header_names_port_and_brackets_as_needed) {
  EXPECT_EQ(Endpoint::parse("http://chamber:80").value().host_header(), "chamber");
  EXPECT_EQ(Endpoint::parse("https://chamber:80").value().host_header(), "chamber:80");
  EXPECT_EQ(Endpoint::parse("http://[::1]:7453").value().host_header(), "[::1]:7453");
}

TEST(Endpoint, anything_else_is_refused) {
  for (const std::string& text :
       {std::string(), std::string("unix:"), std::string("chamber:80"), std::string("ftp://x"),
        std::string("http://"), std::string("http://x/path"), std::string("http://x?y=1"),
        std::string("http://x:99999"), std::string("http://x:0"), std::string("http://me:pw@x"),
        std::string("http://x#part"), std::string("http://x y"), "unix:/" + std::string(200, 'a'),
        std::string("unix:/a\0b", 9)}) {
    EXPECT_TRUE(Endpoint::parse(text).has_error()) << text;
  }
}

TEST(HttpAddress, a_url_is_split_into_server_and_target) {
  const auto address = HttpAddress::parse("http://10.0.0.7:8080/air/now?unit=c%20x").value();
  EXPECT_EQ(address.endpoint, (Endpoint{Kind::tcp, "10.0.0.7", 8080}));
  EXPECT_EQ(address.target, "/air/now?unit=c%20x");
  EXPECT_EQ(HttpAddress::parse("https://x").value().target, "/");
  EXPECT_EQ(HttpAddress::parse("http://x?a=1").value().target, "/?a=1");
  EXPECT_TRUE(HttpAddress::parse("unix:/x").has_error());
}

}  // namespace
}  // namespace takehold::daemon
