#include <gtest/gtest.h>

#include "tests/client/forecast/advice_gain.hpp"

namespace takehold::client {
namespace {

TEST(Advice, a_cooler_place_that_is_advised_gains_plants_where_the_truth_is_known) {
  const AdviceGain gain = gain_of_cooler_benches(31, 12, 160);
  ASSERT_GE(gain.seasons, 8);
  EXPECT_GT(gain.after - gain.before, 2 * gain.error);
  EXPECT_GT(gain.promised, 0.05);
}

}  // namespace
}  // namespace takehold::client
