#include "daemon/io/interface.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "daemon/io/messages.hpp"
#include "tests/support/running_program.hpp"
#include "tests/support/weak_disk.hpp"

namespace takehold::daemon {
namespace {

using namespace std::chrono_literals;
using nlohmann::json;
using takehold::testing::WeakDisk;

const sensors::Instant kNow = sensors::parse_instant("2027-04-12T09:00:00Z").value();

Settings two_probes() {
  Settings settings;
  settings.probes.resize(2);
  settings.probes[0].name = "sent";
  settings.probes[1].name = "polled";
  settings.probes[1].source = HttpSource{"http://localhost/", {}, {}};
  return settings;
}

/// The interface over a real log, without a socket.
struct Chamberd {
  takehold::testing::ScratchFolder folder;
  Settings settings = two_probes();
  ChamberLog log{folder.path("chamber.db")};
  std::unique_ptr<LogReader> reader = open_log_reader(folder.path("chamber.db"));
  Keeper keeper{settings, log, kNow - 1h};
  Interface interface { keeper, *reader };

  Response ask(const std::string& method, const std::string& target, const json& body = {}) {
    return interface.handle({method, target, body.dump(), {}}, kNow);
  }
  Response push(std::chrono::seconds later, double warm = 25) {
    return ask("POST", "/v1/readings",
               {{"probe", "sent"},
                {"at", sensors::to_string(kNow + later)},
                {"temperature_degc", warm},
                {"humidity_pct", 95}});
  }
};

TEST(Interface, the_same_reading_again_is_ignored_also_within_one_list) {
  Chamberd chamber;
  EXPECT_EQ(chamber.push(-10s).body, "{\"accepted\":1,\"ignored\":0}\n");
  EXPECT_EQ(chamber.push(-10s, 26).body, "{\"accepted\":0,\"ignored\":1}\n");
  const json one = {{"probe", "sent"}, {"at", "2027-04-12T08:00:00Z"}, {"temperature_degc", 20}};
  EXPECT_EQ(chamber.ask("POST", "/v1/readings", json::array({one, one})).body,
            "{\"accepted\":1,\"ignored\":1}\n");
}

TEST(Interface, late_readings_go_to_the_log_only_and_none_may_be_ahead) {
  Chamberd chamber;
  chamber.push(-10s, 25);
  chamber.push(-600s, 12);
  const auto status = json::parse(chamber.ask("GET", "/v1/status").body);
  EXPECT_EQ(status["air"]["temperature_degc"], 25);
  EXPECT_EQ(chamber.reader->readings("sent", kNow - 1h, kNow).size(), 2u);
  EXPECT_EQ(chamber.push(60s).status, 200);
  EXPECT_EQ(chamber.push(61s).status, 422);
}

TEST(Interface, a_probe_that_is_polled_or_unknown_takes_no_readings) {
  Chamberd chamber;
  EXPECT_EQ(chamber.ask("POST", "/v1/readings", {{"probe", "polled"}, {"humidity_pct", 9}}).status,
            409);
  EXPECT_EQ(chamber.ask("POST", "/v1/readings", {{"probe", "x"}, {"humidity_pct", 9}}).status, 404);
}

TEST(Interface, what_only_waits_in_memory_is_not_acknowledged_and_is_not_kept_twice) {
  WeakDisk disk;
  Chamberd chamber;
  chamber.push(-30s, 24);
  disk.fail_with(WeakDisk::Fault::full);
  const auto answer = chamber.push(-20s, 25);
  EXPECT_EQ(answer.status, 503);
  EXPECT_EQ(answer.content_type, "application/problem+json");
  EXPECT_EQ(chamber.push(-20s, 25).status, 503);
  auto status = json::parse(chamber.ask("GET", "/v1/status").body);
  EXPECT_EQ(status["air"]["temperature_degc"], 25) << "the watch goes on";
  EXPECT_EQ(status["log"]["written"], false);
  EXPECT_EQ(status["log"]["waiting"], 1);
  disk.fail_with(WeakDisk::Fault::none);
  EXPECT_EQ(chamber.push(-10s, 26).status, 200);
  EXPECT_EQ(chamber.push(-20s, 25).body, "{\"accepted\":0,\"ignored\":1}\n");
  EXPECT_EQ(chamber.reader->readings("sent", kNow - 1h, kNow).size(), 3u);
  status = json::parse(chamber.ask("GET", "/v1/status").body);
  EXPECT_EQ(status["log"]["written"], true);
}

TEST(Interface, those_who_listen_are_told_that_the_disk_failed_and_that_it_is_back) {
  WeakDisk disk;
  Chamberd chamber;
  std::vector<std::string> told;
  chamber.keeper.on_round([&](const LoggedRound& round) {
    for (const auto& [row, event] : round.events) {
      if (event.about == "log") told.push_back(event.text);
    }
  });
  disk.fail_with(WeakDisk::Fault::read_only);
  chamber.push(-20s);
  chamber.push(-10s);
  disk.fail_with(WeakDisk::Fault::none);
  chamber.push(0s);
  EXPECT_THAT(told, ::testing::ElementsAre(::testing::HasSubstr("cannot be written"),
                                           ::testing::HasSubstr("written again")));
}

TEST(Interface, a_clock_that_is_set_leaves_batches_and_raises_no_false_silence) {
  Chamberd chamber;
  chamber.push(-10s);
  chamber.keeper.clock_stepped(kNow + 24h * 365, 24h * 365);
  const auto round = chamber.keeper.wait(kNow + 24h * 365 + 10s);
  EXPECT_TRUE(round.events.empty());
}

// A probe may send any bytes; RFC 8259 wants UTF-8, and a broken byte must not end a poll.
TEST(Interface, raw_bytes_of_a_probe_are_replaced_not_thrown_on) {
  PollResult result{{"sent", kNow, {}, {}, sensors::Quality::none}, "not a line: \xff\xfe"};
  EXPECT_EQ(json::parse(json_text(reading_message(result)))["error"], "not a line: \uFFFD\uFFFD");
}

}  // namespace
}  // namespace takehold::daemon
