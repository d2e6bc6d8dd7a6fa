#include <nlohmann/json.hpp>

#include "tests/client/book/book_fixture.hpp"

namespace takehold::client {
namespace {

using nlohmann::json;

class Outbox : public BookTest {
 protected:
  Outbox() : book_(open()) {
    add_seed(book_);
    graft(book_, 5);
  }
  void move(const char* to, const char* at) {
    book_.record("move G1", kLater, [&](Recorder& r) {
      r.put(Move{.id = r.next_number(Kind::move), .subject = "G1", .at = instant(at), .to = to});
    });
  }
  json body() { return json::parse(book_.waiting().at(0).body.value()); }

  static inline const Instant kLater = instant("2027-03-20T00:00:00Z");
  Book book_;
};

TEST_F(Outbox, a_batch_waits_with_everything_the_interface_asks_for) {
  ASSERT_EQ(book_.waiting().size(), 1u);
  const Notice notice = book_.waiting()[0];
  EXPECT_EQ(notice.label, "G1");
  EXPECT_EQ(notice.revision, 1);
  EXPECT_EQ(body(), json::parse(R"({"book":")" + book_.uuid() + R"(","revision":1,
      "pairing":"Quarry Pink/Ironfoot","count":5,"entered_at":"2027-03-01T10:00:00Z",
      "left_at":null,"regime":{"name":"steady","source":"own","stages":[]},"events":[]})"));
}

TEST_F(Outbox, the_newest_state_replaces_one_not_yet_delivered) {
  book_.record("stage G1 --hold 12", kLater, [](Recorder& r) {
    r.put(BatchEvent{.id = r.next_number(Kind::batch_event),
                     .batch = "G1",
                     .kind = StageChange::hold,
                     .at = instant("2027-03-03T08:00:00Z"),
                     .hours = 12});
  });
  book_.record("lose G1 --count 2", kLater, [](Recorder& r) {
    r.put(Loss{.id = r.next_number(Kind::loss),
               .subject = "G1",
               .at = instant("2027-03-04T08:00:00Z"),
               .count = 2,
               .cause = Cause::wilted});
  });
  ASSERT_EQ(book_.waiting().size(), 1u);
  EXPECT_EQ(book_.waiting()[0].revision, 3);
  EXPECT_EQ(body()["revision"], 3);
  EXPECT_EQ(body()["count"], 3);
  EXPECT_EQ(body()["events"],
            json::parse(R"([{"kind":"hold","at":"2027-03-03T08:00:00Z","hours":12.0}])"));
}

TEST_F(Outbox, a_batch_moved_out_has_left_and_moved_back_has_not) {
  move("warm bench", "2027-03-08T09:00:00Z");
  EXPECT_EQ(body()["left_at"], "2027-03-08T09:00:00Z");
  move("chamber", "2027-03-08T10:00:00Z");
  EXPECT_TRUE(body()["left_at"].is_null());
}

TEST_F(Outbox, a_finished_batch_has_left_when_it_ended_or_before) {
  move("warm bench", "2027-03-08T09:00:00Z");
  book_.record("finish G1", kLater, [](Recorder& r) {
    r.put(Finish{.id = r.next_number(Kind::finish),
                 .batch = "G1",
                 .at = instant("2027-03-15T09:00:00Z"),
                 .taken = 4});
  });
  EXPECT_EQ(body()["left_at"], "2027-03-08T09:00:00Z");
}

TEST_F(Outbox, a_batch_undone_is_to_be_deleted_and_restored_is_told_again) {
  book_.undo(kLater);
  ASSERT_EQ(book_.waiting().size(), 1u);
  EXPECT_FALSE(book_.waiting()[0].body.has_value());
  EXPECT_EQ(book_.waiting()[0].revision, 2);
  book_.undo(kLater);
  EXPECT_EQ(book_.waiting()[0].revision, 3);
  EXPECT_EQ(body()["count"], 5);
}

TEST_F(Outbox, what_was_delivered_is_gone_and_what_was_refused_is_parked_with_the_reason) {
  book_.settle(std::vector<DeliveryOutcome>{{"G1", 1, Delivery::kept, "nobody answered"}});
  EXPECT_EQ(book_.waiting().at(0).tries, 1);
  EXPECT_FALSE(book_.waiting()[0].parked);
  book_.settle(std::vector<DeliveryOutcome>{{"G1", 1, Delivery::parked, "409 another book"}});
  EXPECT_TRUE(book_.waiting().at(0).parked);
  EXPECT_EQ(book_.waiting()[0].trouble, "409 another book");
  book_.unpark();
  EXPECT_FALSE(book_.waiting().at(0).parked);
  book_.settle(std::vector<DeliveryOutcome>{{"G1", 1, Delivery::delivered, ""}});
  EXPECT_TRUE(book_.waiting().empty());
}

TEST_F(Outbox, a_state_recorded_while_the_older_was_under_way_still_waits) {
  const auto under_way = book_.waiting().at(0);
  move("warm bench", "2027-03-08T09:00:00Z");
  book_.settle(std::vector<DeliveryOutcome>{{"G1", under_way.revision, Delivery::delivered, ""}});
  ASSERT_EQ(book_.waiting().size(), 1u);
  EXPECT_EQ(book_.waiting()[0].revision, 2);
}

// The book was put back from an older copy: the daemon has revision 7, the book counts from 1.
TEST_F(Outbox, what_the_daemon_is_ahead_of_waits_again_above_it) {
  book_.settle(std::vector<DeliveryOutcome>{{"G1", 1, Delivery::delivered, "", 7}});
  ASSERT_EQ(book_.waiting().size(), 1u);
  EXPECT_EQ(book_.waiting()[0].revision, 8);
  EXPECT_EQ(body()["revision"], 8);
  book_.settle(std::vector<DeliveryOutcome>{{"G1", 8, Delivery::delivered, "", 8}});
  EXPECT_TRUE(book_.waiting().empty());
  move("warm bench", "2027-03-08T09:00:00Z");
  EXPECT_EQ(book_.waiting()[0].revision, 9);
}

TEST_F(Outbox, sowings_are_none_of_the_daemons_business) {
  book_.settle(std::vector<DeliveryOutcome>{{"G1", 1, Delivery::delivered, ""}});
  sow(book_, 3);
  EXPECT_TRUE(book_.waiting().empty());
}

}  // namespace
}  // namespace takehold::client
