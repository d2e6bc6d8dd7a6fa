// Exchanges with a server that shares no code with us (peer.py, and bare sockets).
#include "daemon/http/exchange.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <netinet/in.h>
#include <sys/socket.h>

#include "tests/daemon/http/peer.hpp"
#include "tests/daemon/temporary_folder.hpp"

namespace takehold::daemon {
namespace {

using namespace std::chrono_literals;
using testing::HasSubstr;
using testing::StartsWith;
using Clock = std::chrono::steady_clock;

class Exchanging : public testing::Test {
 protected:
  static void SetUpTestSuite() { peer_ = new Peer({"tcp"}); }
  static void TearDownTestSuite() {
    delete peer_;
    peer_ = nullptr;
  }
  static Endpoint server() { return Endpoint::parse("http://127.0.0.1:" + peer_->line()).value(); }
  static sensors::Result<HttpResponse> get(const std::string& target, HttpLimits limits = {}) {
    return exchange(server(), {"GET", target, {}, ""}, limits);
  }
  static std::string code(const sensors::Result<HttpResponse>& result) {
    if (result) return "answer " + std::to_string(result->status);
    EXPECT_EQ(result.error().where, server().text());
    return result.error().code;
  }
  static Peer* peer_;
};
Peer* Exchanging::peer_ = nullptr;

TEST_F(Exchanging, what_is_sent_arrives_as_it_was) {
  const std::string body("every\0byte\xff", 11);
  const HttpRequest request{
      "PUT", "/v1/occupants/G1?x=%20", {{"Authorization", "Bearer abc"}}, body};
  const auto answer = exchange(server(), request).value();
  EXPECT_EQ(answer.status, 200);
  EXPECT_EQ(answer.headers.at("content-type"), "text/plain");
  EXPECT_THAT(answer.body, StartsWith("PUT /v1/occupants/G1?x=%20\n"));
  EXPECT_THAT(answer.body, HasSubstr("host: " + server().host_header() + "\n"));
  EXPECT_THAT(answer.body, HasSubstr("authorization: Bearer abc\n"));
  EXPECT_THAT(answer.body, HasSubstr("content-length: 11\n"));
  EXPECT_TRUE(answer.body.ends_with("\n\n" + body));
}

TEST_F(Exchanging, any_status_is_an_answer) {
  EXPECT_EQ(get("/missing").value().status, 404);
  EXPECT_EQ(get("/missing").value().body, R"({"title":"gone"})");
  EXPECT_EQ(get("/empty").value().status, 204);
  EXPECT_EQ(exchange(server(), {"HEAD", "/", {}, ""}).value().body, "");
  EXPECT_EQ(get("/chunked").value().body, "one two three");
}

TEST_F(Exchanging, names_are_looked_up) {
  Endpoint named = server();
  named.host = "localhost";
  EXPECT_EQ(exchange(named, {}, {.connect = 5s}).value().status, 200);
}

TEST_F(Exchanging, a_silent_server_is_given_up_in_time) {
  const auto start = Clock::now();
  EXPECT_EQ(code(get("/slow", {.total = 300ms})), "timeout");
  EXPECT_EQ(code(get("/drip", {.total = 350ms})), "timeout");
  EXPECT_GE(Clock::now() - start, 650ms);
  EXPECT_LT(Clock::now() - start, 10s);
}

TEST_F(Exchanging, answers_beyond_the_limits_are_refused) {
  EXPECT_EQ(code(get("/big", {.body_bytes = 99999})), "too-large");
  EXPECT_EQ(code(get("/big", {.body_bytes = 100000})), "answer 200");
  EXPECT_EQ(code(get("/bighead")), "too-large");
}

TEST_F(Exchanging, what_is_not_http_or_cut_short_is_told) {
  EXPECT_EQ(code(get("/garbage")), "bad-answer");
  EXPECT_EQ(code(get("/short")), "connection-lost");
}

TEST_F(Exchanging, what_would_break_the_wire_is_not_sent) {
  EXPECT_EQ(code(get("/a b")), "bad-request");
  EXPECT_EQ(code(get("/a\r\nX: y")), "bad-request");
  EXPECT_EQ(code(get("relative")), "bad-request");
  EXPECT_EQ(code(exchange(server(), {"GE T", "/", {}, ""})), "bad-request");
  EXPECT_EQ(code(exchange(server(), {"GET", "/", {{"X", "a\r\nEvil: b"}}, ""})), "bad-request");
}

TEST(Connecting, nobody_there_is_told_at_once) {
  TemporaryFolder folder;
  const auto start = Clock::now();
  const Endpoint nowhere{Endpoint::Kind::unix_socket, (folder / "none.sock").string(), 0};
  EXPECT_EQ(exchange(nowhere, {}).error().code, "connect-failed");
  EXPECT_EQ(exchange(nowhere, {}).error().where, nowhere.text());
  EXPECT_EQ(exchange(Endpoint::parse("http://127.0.0.1:1").value(), {}).error().code,
            "connect-failed");
  EXPECT_LT(Clock::now() - start, 5s);
}

/// A listener whose queue is full does not answer: the kernel lets the caller wait.
TEST(Connecting, a_host_that_does_not_answer_is_given_up_in_time) {
  const int listener = socket(AF_INET, SOCK_STREAM, 0);
  sockaddr_in address{};
  address.sin_family = AF_INET;
  address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
  socklen_t size = sizeof address;
  ASSERT_EQ(bind(listener, reinterpret_cast<sockaddr*>(&address), size), 0);
  ASSERT_EQ(listen(listener, 0), 0);
  ASSERT_EQ(getsockname(listener, reinterpret_cast<sockaddr*>(&address), &size), 0);
  std::vector<int> crowd;
  for (int i = 0; i < 4; ++i) {
    crowd.push_back(socket(AF_INET, SOCK_STREAM | SOCK_NONBLOCK, 0));
    (void)!connect(crowd.back(), reinterpret_cast<sockaddr*>(&address), size);
  }
  const Endpoint full{Endpoint::Kind::tcp, "127.0.0.1", ntohs(address.sin_port)};
  const auto start = Clock::now();
  EXPECT_EQ(exchange(full, {}, {.connect = 300ms}).error().code, "timeout");
  EXPECT_GE(Clock::now() - start, 290ms);
  EXPECT_LT(Clock::now() - start, 5s);
  for (const int one : crowd) close(one);
  close(listener);
}

TEST(UnixSocket, carries_the_same_exchange) {
  TemporaryFolder folder;
  const auto path = (folder / "peer.sock").string();
  const Peer peer({"unix", path});
  const auto answer =
      exchange(Endpoint::parse("unix:" + path).value(), {"POST", "/", {}, "hello"}).value();
  EXPECT_THAT(answer.body, HasSubstr("host: chamber\n"));
  EXPECT_TRUE(answer.body.ends_with("\n\nhello"));
}

/// A certificate for localhost that is its own authority.
void make_certificate(const TemporaryFolder& folder) {
  const std::string made =
      "openssl req -x509 -newkey rsa:2048 -nodes -days 2 -subj /CN=localhost -addext "
      "subjectAltName=DNS:localhost -keyout '" +
      (folder / "key.pem").string() + "' -out '" + (folder / "certificate.pem").string() +
      "' 2>/dev/null";
  ASSERT_EQ(std::system(made.c_str()), 0);
}

TEST(Tls, a_trusted_certificate_of_the_right_name_is_needed) {
  TemporaryFolder folder;
  ASSERT_NO_FATAL_FAILURE(make_certificate(folder));
  const auto certificate = (folder / "certificate.pem").string();
  const Peer peer({"tls", certificate, (folder / "key.pem").string()});
  const auto server = Endpoint::parse("https://localhost:" + peer.line()).value();
  HttpLimits trusting{.connect = 5s, .ca_file = certificate};
  EXPECT_EQ(exchange(server, {"POST", "/", {}, "hello"}, trusting).value().status, 200);
  EXPECT_EQ(exchange(server, {}, {.connect = 5s}).error().code, "tls-failed");
  Endpoint other = server;
  other.host = "127.0.0.1";  // the same server, by a name the certificate does not have
  EXPECT_EQ(exchange(other, {}, trusting).error().code, "tls-failed");
}

}  // namespace
}  // namespace takehold::daemon
