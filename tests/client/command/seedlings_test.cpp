// From the packet to the calliper, on a real book.
#include "tests/client/command/season_book.hpp"

namespace takehold::client {
namespace {

class Seedlings : public SeasonBook {};

TEST_F(Seedlings, what_is_sown_is_no_longer_on_hand_and_more_than_that_is_refused) {
  const auto sowing = done({"sow", "QP-24", "12", "--on", "2027-04-01"});
  EXPECT_EQ(sowing["id"], "S1");
  EXPECT_EQ(sowing["on"], "2027-04-01");
  EXPECT_EQ(sowing["cells"], 6);
  EXPECT_EQ(sowing["bench"], "warm bench");
  EXPECT_EQ(sowing["entered_at"], "2027-04-12T09:30:00Z");
  EXPECT_EQ(open().on_hand("QP-24"), 18);
  EXPECT_EQ(refused({"sow", "QP-24", "19"}), "sown-more-than-there-is");
  EXPECT_EQ(open().on_hand("QP-24"), 18);
}

TEST_F(Seedlings, what_cannot_be_is_refused_and_leaves_nothing_behind) {
  EXPECT_EQ(refused({"sow", "nowhere", "3"}), "not-there");
  EXPECT_EQ(refused({"sow", "QP-24", "3", "--on", "2027-04-13"}), "in-the-future");
  done({"sow", "QP-24", "12", "--on", "2027-04-01"});
  EXPECT_EQ(refused({"emerged", "S1", "13"}), "more-than-sown");
  EXPECT_EQ(refused({"emerged", "S2", "3"}), "not-there");
  EXPECT_EQ(refused({"thin", "S1", "13"}), "more-than-stand");
  EXPECT_EQ(open().all<Emerged>().size(), 0u);
  EXPECT_EQ(told({"sow", "--planned", "QP-24"}).exit_code, 2);
}

TEST_F(Seedlings, fewer_than_before_is_a_loss_and_wants_its_cause) {
  done({"sow", "QP-24", "12", "--on", "2027-04-01"});
  done({"emerged", "S1", "9", "--on", "2027-04-08"});
  const auto said = told({"emerged", "S1", "7"});
  EXPECT_EQ(said.exit_code, 1);
  EXPECT_EQ(said.document()["error"]["code"], "fewer-than-before");
  EXPECT_NE(said.err.find("lose S1 --count 2"), std::string::npos);
  done({"lose", "S1", "--count", "2", "--cause", "damped-off"});
  EXPECT_EQ(told({"emerged", "S1", "7"}).exit_code, 0);
  EXPECT_EQ(told({"lose", "S1", "--count", "1", "--cause", "boredom"}).exit_code, 2);
}

TEST_F(Seedlings, stems_are_typed_or_piped_and_a_lost_decimal_point_is_noticed) {
  done({"sow", "QP-24", "12", "--on", "2027-04-01"});
  const auto typed = done({"measure", "S1", "2.0", "2,1", "5=2.3"});
  ASSERT_EQ(typed["stems"].size(), 3u);
  EXPECT_EQ(typed["stems"][2]["number"], 5);
  EXPECT_EQ(typed["stems"][2]["diameter_mm"], 2.3);
  EXPECT_EQ(done({"measure", "S1"}, "2.0\n2.1\n")["stems"].size(), 2u);
  const auto said = told({"measure", "S1", "2.0", "23"});
  EXPECT_EQ(said.exit_code, 1);
  EXPECT_NE(said.err.find("23"), std::string::npos);
  EXPECT_NE(said.err.find("2.3"), std::string::npos);
  EXPECT_EQ(refused({"measure", "S1", "13=2.0"}), "no-such-seedling");
  EXPECT_EQ(open().all<Measurement>().size(), 2u);
}

TEST_F(Seedlings, trays_move_to_a_bench_named_by_its_beginning) {
  done({"sow", "QP-24", "12", "--on", "2027-04-01"});
  EXPECT_EQ(done({"move", "S1", "--to", "cold"})["to"], "cold frame");
  EXPECT_EQ(refused({"move", "S1", "--to", "cold frame"}), "already-there");
  EXPECT_EQ(refused({"move", "S1", "--to", "attic"}), "not-there");
}

}  // namespace
}  // namespace takehold::client
