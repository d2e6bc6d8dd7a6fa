// What the daemon must hear waits in the book while nobody answers, and arrives exactly once.
#include <gmock/gmock.h>

#include "tests/system/real_place.hpp"

namespace takehold::testing {
namespace {

using nlohmann::json;
using ::testing::HasSubstr;

class Outbox : public RealPlace {
 protected:
  void SetUp() override {
    start_probe(97);
    write("season.toml", small_sheet(day_ago(-14)));
    now_ = days_ago(40);
    done({"season", "load", file("season.toml")});
    done({"sow", "QP", "20", "--as", "scion"});
    done({"sow", "IF", "20", "--as", "rootstock"});
    done({"emerged", "S1", "18", "--on", day_ago(40)});
    done({"emerged", "S2", "18", "--on", day_ago(40)});
    now_ = days_ago(1);
  }
  /// How many rows the log's own file holds of a label.
  std::string rows_of(const std::string& label) const {
    return output_of("sqlite3 -readonly '" + file("takehold/chamber.db") +
                     "' \"SELECT count(*) FROM occupant WHERE label = '" + label + "'\"");
  }
};

TEST_F(Outbox, keeps_what_nobody_hears_and_delivers_it_once) {
  const Said kept = told({"graft", "P1", "--count", "6", "--json"});
  EXPECT_EQ(kept.exit_code, 0) << kept.err;
  EXPECT_EQ(kept.document()["warnings"][0]["code"], "daemon-not-told");
  EXPECT_EQ(refused({"send"}), "daemon-not-told");
  const Said lost = told({"lose", "G1", "--count", "1"});  // replaces what waited
  EXPECT_EQ(lost.exit_code, 0);
  EXPECT_THAT(lost.err, HasSubstr("has not heard of G1"));

  start_daemon();
  const auto sent = done({"send"})["notices"];
  ASSERT_EQ(sent.size(), 1U);
  EXPECT_EQ(sent[0]["delivery"], "delivered");
  EXPECT_EQ(sent[0]["revision"], 2);
  EXPECT_EQ(occupant("G1")["revision"], 2);
  EXPECT_EQ(occupant("G1")["count"], 5);
  EXPECT_EQ(rows_of("G1"), "1\n");
  EXPECT_TRUE(done({"send"})["notices"].empty());
}

TEST_F(Outbox, trouble_that_was_said_is_not_said_with_the_next_batch) {
  EXPECT_THAT(told({"graft", "P1", "--count", "6"}).err, HasSubstr("has not heard of G1 yet"));
  const Said next = told({"graft", "P1", "--count", "2"});
  EXPECT_THAT(next.err, HasSubstr("has not heard of G2 yet"));
  EXPECT_THAT(next.err, ::testing::Not(HasSubstr("G1")));
}

// What a batch went through is asked for when the daemon is there again, and once.
TEST_F(Outbox, what_a_batch_went_through_is_fetched_later) {
  start_daemon();
  done({"graft", "P1", "--count", "6"});
  ASSERT_TRUE(
      becomes_true([&] { return !daemon_says("/v1/status")["air"]["humidity_pct"].is_null(); },
                   std::chrono::seconds(20)));
  kill_daemon();
  now_.clear();
  const auto moved = done({"move", "G1", "--to", "warm"});
  EXPECT_TRUE(moved["exposure"].is_null());
  EXPECT_EQ(moved["warnings"][0]["code"], "daemon-not-told");
  start_daemon();
  const auto sent = done({"send"});
  ASSERT_EQ(sent["exposures"].size(), 1U);
  EXPECT_EQ(sent["exposures"][0]["batch"], "G1");
  EXPECT_TRUE(sent["exposures"][0]["trouble"].is_null());
  EXPECT_TRUE(done({"send"})["exposures"].empty());
  EXPECT_EQ(done({"undo"})["undone"]["command"], "move G1 --to \"warm bench\"");
}

// A book put back from a copy of yesterday counts its revisions from there; what it says must reach
// the daemon all the same.
TEST_F(Outbox, a_book_put_back_from_an_older_copy_is_heard_again) {
  start_daemon();
  done({"graft", "P1", "--count", "6"});
  done({"backup", file("yesterday.db")});
  done({"lose", "G1", "--count", "2"});
  EXPECT_EQ(occupant("G1")["count"], 4);
  EXPECT_EQ(occupant("G1")["revision"], 2);
  EXPECT_TRUE(done({"restore", file("yesterday.db"), "--replace"})["warnings"].empty());
  EXPECT_EQ(occupant("G1")["count"], 6);
  EXPECT_GT(occupant("G1")["revision"], 2);
  done({"lose", "G1", "--count", "1"});
  EXPECT_EQ(occupant("G1")["count"], 5);
  EXPECT_TRUE(done({"send"})["notices"].empty());
}

TEST_F(Outbox, what_the_daemon_refuses_is_parked_with_its_reason) {
  start_daemon();
  done({"graft", "P1", "--count", "6"});
  // Another book of the same machine that also has a G1.
  const Said other = told({"--book", file("other.db"), "season", "load", file("season.toml")});
  ASSERT_EQ(other.exit_code, 0) << other.err;
  for (const char* lot : {"QP", "IF"}) {
    done({"--book", file("other.db"), "sow", lot, "9", "--on", day_ago(40)});
  }
  const auto refused_by_daemon = done({"--book", file("other.db"), "graft", "P1", "--count", "2"});
  EXPECT_EQ(refused_by_daemon["warnings"][0]["code"], "daemon-refused");
  EXPECT_THAT(refused_by_daemon["warnings"][0]["text"].get<std::string>(), HasSubstr("409"));
  EXPECT_EQ(occupant("G1")["count"], 6);
  // `today` keeps the reason before the grower's eyes.
  const auto tasks = done({"--book", file("other.db"), "today"})["tasks"];
  const auto send = std::find_if(tasks.begin(), tasks.end(),
                                 [](const json& task) { return task["what"] == "send"; });
  ASSERT_NE(send, tasks.end());
  EXPECT_THAT((*send)["text"].get<std::string>(), HasSubstr("409"));
}

}  // namespace
}  // namespace takehold::testing
