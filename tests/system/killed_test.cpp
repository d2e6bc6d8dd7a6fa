// kill -9 in the middle: of the client while it records, of the daemon while it is told.
#include <signal.h>

#include <random>
#include <thread>

#include "tests/system/real_place.hpp"

namespace takehold::testing {
namespace {

using namespace std::chrono_literals;
using nlohmann::json;

class Killed : public RealPlace {
 protected:
  void SetUp() override {
    write("season.toml", small_sheet(day_ago(-14)));
    now_ = days_ago(40);
    done({"season", "load", file("season.toml")});
  }
  std::size_t sowings() const {
    return json::parse(output_of("sqlite3 -json -readonly '" + book() +
                                 "' 'SELECT count(*) AS n FROM sowing'"))
        .at(0)
        .at("n");
  }
  std::string integrity(const std::string& path) const {
    return output_of("sqlite3 '" + path + "' 'PRAGMA integrity_check; PRAGMA foreign_key_check'");
  }
};

// Each round is a `sow` killed after a random part of the time that one takes. What it printed,
// which is after the commit, must be in the book; what it did not print may be, whole.
TEST_F(Killed, a_client_killed_while_recording_loses_nothing_it_acknowledged) {
  const auto begun = std::chrono::steady_clock::now();
  done({"sow", "QP", "1"});
  const auto one_run = std::chrono::steady_clock::now() - begun;
  constexpr unsigned kSeed = 20270412;
  std::mt19937 random(kSeed);
  std::size_t acknowledged = 1;
  int killed = 0;
  constexpr int kRounds = 40;
  for (int round = 0; round < kRounds; ++round) {
    RunningProgram sow(started("takehold", {"--now", now_, "sow", "QP", "1"}),
                       {"/dev/null", file("sow.err")});
    std::this_thread::sleep_for(one_run * (random() % 1000) / 1000);
    sow.signal(SIGKILL);
    if (sow.rest().find("1 seed") != std::string::npos) ++acknowledged;
    if (sow.exit_code(10s) == 128 + SIGKILL) ++killed;
    ASSERT_EQ(integrity(book()), "ok\n") << "round " << round;
    ASSERT_GE(sowings(), acknowledged) << "round " << round;
  }
  EXPECT_GE(killed, kRounds / 4) << "the moments were too late to prove anything";
  const auto next = done({"sow", "QP", "1"})["id"].get<std::string>();
  EXPECT_GT(std::stoul(next.substr(1)), acknowledged);
}

TEST_F(Killed, a_daemon_killed_while_logging_keeps_what_it_was_told) {
  start_probe(97);
  start_daemon();
  for (const char* lot : {"QP", "IF"}) done({"sow", lot, "20", "--on", day_ago(41)});
  now_ = days_ago(1);
  done({"graft", "P1", "--count", "9"});
  for (int round = 1; round <= 5; ++round) {
    done({"lose", "G1", "--count", "1"});
    kill_daemon();
    ASSERT_EQ(integrity(file("takehold/chamber.db")), "ok\n");
    EXPECT_EQ(done({"lose", "G1", "--count", "1", "--cause", "pest"})["warnings"][0]["code"],
              "daemon-not-told");
    ASSERT_EQ(done({"undo"})["warnings"][0]["code"], "daemon-not-told");
    start_daemon();
    EXPECT_EQ(occupant("G1")["count"], 9 - round) << "what was acknowledged before the kill";
    EXPECT_EQ(done({"send"})["notices"].size(), 1U);
    EXPECT_EQ(occupant("G1")["count"], 9 - round);
  }
}

}  // namespace
}  // namespace takehold::testing
