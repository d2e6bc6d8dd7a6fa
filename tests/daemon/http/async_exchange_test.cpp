#include "daemon/http/async_exchange.hpp"

#include <gtest/gtest.h>

#include <boost/asio/co_spawn.hpp>
#include <boost/asio/io_context.hpp>

#include "tests/daemon/http/peer.hpp"

namespace takehold::daemon {
namespace {

using namespace std::chrono_literals;

TEST(AsyncExchange, many_wait_at_once_and_a_silent_one_delays_no_other) {
  const Peer peer({"tcp"});
  const Endpoint server = Endpoint::parse("http://127.0.0.1:" + peer.line()).value();
  boost::asio::io_context context(1);
  std::vector<std::string> order;
  const auto ask = [&](const char* target, const char* name) {
    const HttpLimits limits{.connect = 5s, .total = 2s};
    boost::asio::co_spawn(
        context, async_exchange(server, {"GET", target, {}, ""}, limits),
        [&order, name](std::exception_ptr thrown, sensors::Result<HttpResponse> got) {
          EXPECT_FALSE(thrown);
          order.push_back(std::string(name) + (got ? " answered" : " " + got.error().code));
        });
  };
  ask("/slow", "silent");
  for (int i = 0; i < 10; ++i) ask("/now", "quick");
  const auto start = std::chrono::steady_clock::now();
  context.run();
  EXPECT_LT(std::chrono::steady_clock::now() - start, 20s);
  ASSERT_EQ(order.size(), 11u);
  for (int i = 0; i < 10; ++i) EXPECT_EQ(order[static_cast<std::size_t>(i)], "quick answered");
  EXPECT_EQ(order.back(), "silent timeout");
}

}  // namespace
}  // namespace takehold::daemon
