#include <gtest/gtest.h>

#include <cstdlib>
#include <random>

#include "tests/daemon/log/readings.hpp"
#include "tests/support/weak_disk.hpp"

namespace takehold::daemon {
namespace {

using takehold::testing::WeakDisk;

/// One power cut at a moment of its own: what was acknowledged before it, and how often it is
/// there.
void cut_once(std::uint64_t seed) {
  SCOPED_TRACE(seed);
  std::mt19937_64 random(seed);
  WeakDisk disk;
  LogInFolder kept;
  disk.cut_power_after(1 + int(random() % 400));
  int acknowledged = 0;
  try {
    for (int i = 0; i < 400; ++i) {
      kept.write({reading(i * 10s, 20, 90, "left"), reading(i * 10s, 21, 91, "right")});
      acknowledged = i + 1;
    }
  } catch (const std::exception&) {
    EXPECT_TRUE(disk.power_is_gone());
  }
  ASSERT_TRUE(disk.power_is_gone()) << "the cut came too late to cut anything";
  kept.log.reset();
  disk.restore_power(seed);
  kept.open();
  EXPECT_EQ(takehold::testing::output_of("sqlite3 '" + kept.file + "' 'PRAGMA integrity_check'"),
            "ok\n");
  const auto left = kept.all("left");
  ASSERT_GE(int(left.size()), acknowledged);
  ASSERT_LE(int(left.size()), acknowledged + 1);  // the one that was under way may be there
  EXPECT_EQ(kept.all("right").size(), left.size()) << "a round is there whole or not at all";
  for (std::size_t i = 0; i < left.size(); ++i) {
    ASSERT_EQ(left[i].reading.at, kStart + int(i) * 10s) << "none lost, none twice";
  }
}

TEST(PowerCut, loses_nothing_that_was_acknowledged_and_halves_no_round) {
  // In memory, where a real sync costs nothing: what a sync saves is decided by our own layer.
  ::setenv("TMPDIR", "/dev/shm", 1);
  for (std::uint64_t seed = 1; seed <= 25; ++seed) cut_once(seed);
  ::unsetenv("TMPDIR");
}

}  // namespace
}  // namespace takehold::daemon
