#include "daemon/poll/link_machine.hpp"

#include <gtest/gtest.h>

namespace takehold::daemon {
namespace {

using namespace std::chrono_literals;
using Action = LinkMachine::Action;
using Outcome = LinkMachine::Outcome;

const MonotoneTime kStart{};

TEST(LinkMachine, a_new_line_is_opened_at_once_and_then_only_asked) {
  LinkMachine link;
  EXPECT_EQ(link.next(kStart), Action::open_and_ask);
  EXPECT_FALSE(link.report(Outcome::answered, kStart));
  EXPECT_EQ(link.next(kStart + 10s), Action::ask);
}

TEST(LinkMachine, a_device_that_is_gone_is_tried_after_doubling_pauses_up_to_the_limit) {
  LinkMachine link({.first_pause = 1s, .pause_limit = 30s, .silences_before_reopen = 3});
  MonotoneTime now = kStart;
  for (const auto pause : {1s, 2s, 4s, 8s, 16s, 30s, 30s, 30s}) {
    EXPECT_TRUE(link.report(Outcome::lost, now));
    EXPECT_EQ(link.next(now + pause - 1ms), Action::rest) << pause.count();
    EXPECT_EQ(link.next(now + pause), Action::open_and_ask) << pause.count();
    now += pause;
  }
}

TEST(LinkMachine, an_answer_after_a_replug_forgets_the_pauses) {
  LinkMachine link;
  for (int i = 0; i < 6; ++i) (void)link.report(Outcome::lost, kStart + i * 60s);
  EXPECT_FALSE(link.report(Outcome::answered, kStart + 600s));
  EXPECT_TRUE(link.report(Outcome::lost, kStart + 610s));
  EXPECT_EQ(link.pause(), 1s);
}

TEST(LinkMachine, a_silent_line_is_closed_after_three_polls_and_opened_at_the_next) {
  LinkMachine link;
  EXPECT_FALSE(link.report(Outcome::silent, kStart));
  EXPECT_FALSE(link.report(Outcome::silent, kStart + 10s));
  EXPECT_TRUE(link.report(Outcome::silent, kStart + 20s));
  EXPECT_FALSE(link.is_open());
  EXPECT_EQ(link.next(kStart + 30s), Action::open_and_ask);
}

TEST(LinkMachine, bytes_that_are_no_reading_prove_the_line_alive) {
  LinkMachine link;
  for (int i = 0; i < 10; ++i) {
    EXPECT_FALSE(link.report(Outcome::silent, kStart + i * 20s));
    EXPECT_FALSE(link.report(Outcome::garbled, kStart + i * 20s + 10s));
  }
  EXPECT_TRUE(link.is_open());
}

}  // namespace
}  // namespace takehold::daemon
