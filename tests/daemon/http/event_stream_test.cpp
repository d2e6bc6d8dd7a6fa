#include "daemon/http/event_stream.hpp"

#include <gtest/gtest.h>

#include <thread>

#include "tests/daemon/http/peer.hpp"
#include "tests/daemon/temporary_folder.hpp"

namespace takehold::daemon {
namespace {

using namespace std::chrono_literals;
using Clock = std::chrono::steady_clock;

class EventStream : public testing::Test {
 protected:
  EventStream()
      : peer_({"unix", (folder_ / "peer.sock").string()}),
        server_{Endpoint::Kind::unix_socket, (folder_ / "peer.sock").string(), 0} {}

  TemporaryFolder folder_;
  Peer peer_;
  Endpoint server_;
  std::vector<ServerEvent> got_;
};

TEST_F(EventStream, every_event_comes_in_order_until_the_server_ends_it) {
  const auto why = listen_to_events(server_, "/events", "", [&](const ServerEvent& event) {
    got_.push_back(event);
    return true;
  });
  ASSERT_TRUE(why);
  EXPECT_EQ(why->code, "closed");
  ASSERT_EQ(got_.size(), 20u);
  for (std::size_t i = 0; i < got_.size(); ++i) {
    const auto number = std::to_string(i + 1);
    EXPECT_EQ(got_[i], (ServerEvent{"reading", number, "{\"n\":\n" + number + "}"}));
  }
}

TEST_F(EventStream, it_goes_on_after_the_last_one_seen) {
  listen_to_events(server_, "/events", "17", [&](const ServerEvent& event) {
    got_.push_back(event);
    return true;
  });
  ASSERT_EQ(got_.size(), 3u);
  EXPECT_EQ(got_.front().id, "18");
}

TEST_F(EventStream, the_listener_may_have_enough) {
  const auto why = listen_to_events(server_, "/events?stay", "", [&](const ServerEvent& event) {
    got_.push_back(event);
    return got_.size() < 5;
  });
  EXPECT_FALSE(why);
  EXPECT_EQ(got_.size(), 5u);
}

TEST_F(EventStream, it_is_stopped_from_outside_while_nothing_comes) {
  std::stop_source stop;
  const auto start = Clock::now();
  std::jthread stopper([&] {
    std::this_thread::sleep_for(300ms);
    stop.request_stop();
  });
  const auto why = listen_to_events(
      server_, "/events?stay", "", [](const ServerEvent&) { return true; }, stop.get_token());
  EXPECT_FALSE(why);
  EXPECT_LT(Clock::now() - start, 10s);
}

TEST_F(EventStream, a_silent_stream_is_dead) {
  ListenOptions limits;
  limits.silence = 300ms;
  const auto why = listen_to_events(
      server_, "/events?stay", "", [](const ServerEvent&) { return true; }, {}, limits);
  ASSERT_TRUE(why);
  EXPECT_EQ(why->code, "timeout");
}

TEST_F(EventStream, what_is_no_stream_is_told) {
  const auto listen = [&](const char* path) {
    return listen_to_events(server_, path, "", [](const ServerEvent&) { return true; })->code;
  };
  EXPECT_EQ(listen("/missing"), "http-404");
  EXPECT_EQ(listen("/big"), "bad-answer");
  server_.host += "x";
  EXPECT_EQ(listen("/events"), "connect-failed");
}

TEST_F(EventStream, what_the_listener_throws_comes_through) {
  const auto thrower = [](const ServerEvent&) -> bool { throw std::out_of_range("mine"); };
  EXPECT_THROW(listen_to_events(server_, "/events", "", thrower), std::out_of_range);
}

}  // namespace
}  // namespace takehold::daemon
