#include "daemon/poll/round_clock.hpp"

#include <gmock/gmock.h>

namespace takehold::daemon {
namespace {

using namespace std::chrono_literals;
using testing::ElementsAre;
using testing::IsEmpty;

const MonotoneTime kStart{};

TEST(RoundClock, probes_of_one_period_share_every_round) {
  RoundClock clock({10s, 10s}, kStart);
  EXPECT_EQ(clock.next_at(), kStart);
  EXPECT_THAT(clock.take_due(kStart), ElementsAre(0, 1));
  EXPECT_EQ(clock.next_at(), kStart + 10s);
  EXPECT_THAT(clock.take_due(kStart + 9s), IsEmpty());
  EXPECT_THAT(clock.take_due(kStart + 10s), ElementsAre(0, 1));
}

TEST(RoundClock, a_slow_probe_joins_the_rounds_that_meet_its_own_period) {
  RoundClock clock({10s, 30s}, kStart);
  std::vector<std::size_t> sizes;
  for (int i = 0; i < 7; ++i) sizes.push_back(clock.take_due(kStart + i * 10s).size());
  EXPECT_THAT(sizes, ElementsAre(2, 1, 1, 2, 1, 1, 2));
}

TEST(RoundClock, a_late_round_skips_what_it_missed_and_keeps_the_beat) {
  RoundClock clock({10s}, kStart);
  clock.take_due(kStart);
  EXPECT_THAT(clock.take_due(kStart + 47s), ElementsAre(0));
  EXPECT_EQ(clock.next_at(), kStart + 50s);
}

TEST(RoundClock, without_probes_there_is_never_a_round) {
  EXPECT_EQ(RoundClock({}, kStart).next_at(), MonotoneTime::max());
}

}  // namespace
}  // namespace takehold::daemon
