// Which batches the daemon still owes an account of, and that nobody's silence stops a record.
#include "client/command/exposure.hpp"

#include "client/link/find_daemon.hpp"
#include "tests/client/command/season_book.hpp"

namespace takehold::client {
namespace {

class ExposureOfBook : public SeasonBook {
 protected:
  ExposureOfBook() {
    done({"sow", "QP-24", "9", "--on", "2027-03-20"});
    done({"sow", "IF-26", "9", "--on", "2027-03-17"});
    done({"graft", "P1", "--count", "3", "--at", "2027-04-01T09:00:00Z"});
  }
  static sensors::Instant now() { return *sensors::parse_instant("2027-04-12T09:30:00Z"); }
  /// As if the daemon had heard everything.
  static void settle_all(Book& book) {
    std::vector<DeliveryOutcome> heard;
    for (const auto& notice : book.waiting())
      heard.push_back({notice.label, notice.revision, Delivery::delivered, ""});
    book.settle(heard);
  }
  Link nobody() const {
    return Link(
        LinkOptions{*find_daemon("unix:" + (folder_ / "nobody.sock").string(), std::nullopt)});
  }
  static void keep(Book& book, const char* left, double observed) {
    book.record("exposure G1", now(), [&](Recorder& r) {
      r.put(Exposure{r.next_number(Kind::exposure), "G1", *sensors::parse_instant(left), observed,
                     R"({"observed":0.9})"});
    });
  }
};

TEST_F(ExposureOfBook, is_owed_once_the_batch_has_left_and_the_daemon_knows_that) {
  Book book = open();
  settle_all(book);
  EXPECT_TRUE(exposures_owed(book, now()).empty());  // it is inside
  done({"move", "G1", "--to", "warm", "--at", "2027-04-08T09:00:00Z"});
  EXPECT_TRUE(exposures_owed(book, now()).empty());  // its notice waits
  settle_all(book);
  ASSERT_EQ(exposures_owed(book, now()).size(), 1U);
  EXPECT_EQ(exposures_owed(book, now())[0].left_at,
            *sensors::parse_instant("2027-04-08T09:00:00Z"));
  EXPECT_TRUE(exposures_owed(book, *sensors::parse_instant("2027-04-08T08:00:00Z")).empty());
}

TEST_F(ExposureOfBook, what_is_kept_is_owed_no_more_until_the_batch_leaves_at_another_time) {
  done({"move", "G1", "--to", "warm", "--at", "2027-04-08T09:00:00Z"});
  Book book = open();
  settle_all(book);
  keep(book, "2027-04-08T09:00:00Z", 0.9);
  EXPECT_TRUE(exposures_owed(book, now()).empty());
  EXPECT_EQ(kept_exposure(book, "G1")->observed, 0.9);
  EXPECT_TRUE(book.waiting().empty()) << "what the daemon said is no news to it";
  done({"move", "G1", "--to", "chamber", "--at", "2027-04-08T10:00:00Z"});
  EXPECT_FALSE(kept_exposure(book, "G1"));
  done({"move", "G1", "--to", "cold", "--at", "2027-04-09T10:00:00Z"});
  settle_all(book);
  EXPECT_EQ(exposures_owed(book, now()).size(), 1U);
}

TEST_F(ExposureOfBook, undo_passes_over_what_the_daemon_said) {
  done({"move", "G1", "--to", "warm", "--at", "2027-04-08T09:00:00Z"});
  {
    Book book = open();
    settle_all(book);
    keep(book, "2027-04-08T09:00:00Z", 0.9);
  }
  EXPECT_EQ(done({"undo"})["undone"]["command"], "move G1 --to \"warm bench\"");
  EXPECT_FALSE(open().left_chamber("G1"));
}

TEST_F(ExposureOfBook, a_daemon_that_is_down_stops_no_finish_and_is_asked_again) {
  const auto finish = done({"finish", "G1", "--taken", "2"});
  EXPECT_EQ(finish["taken"], 2);
  EXPECT_TRUE(finish["exposure"].is_null());
  EXPECT_EQ(finish["warnings"][0]["code"], "daemon-not-told");
  Book book = open();
  settle_all(book);
  const auto answers = fetch_exposures(book, nobody(), now());
  ASSERT_EQ(answers.size(), 1U);
  EXPECT_FALSE(answers[0].trouble.empty());
  EXPECT_EQ(exposures_owed(book, now()).size(), 1U);
  EXPECT_EQ(refused({"send"}), "daemon-not-told");
}

TEST_F(ExposureOfBook, a_daemon_address_that_is_none_does_not_undo_what_was_recorded) {
  const Said said = run({"--book", (folder_ / "book.db").string(), "--daemon", "carrier pigeon",
                         "lose", "G1", "--count", "1", "--json"});
  EXPECT_EQ(said.exit_code, 0) << said.err;
  EXPECT_EQ(said.document()["warnings"][0]["code"], "daemon-not-told");
  EXPECT_EQ(run({"--daemon", "carrier pigeon", "chamber"}).exit_code, 1);
}

}  // namespace
}  // namespace takehold::client
