#include <gtest/gtest.h>
#include <signal.h>
#include <sys/resource.h>

#include "daemon/log/patient_log.hpp"
#include "tests/daemon/log/readings.hpp"
#include "tests/support/weak_disk.hpp"

namespace takehold::daemon {
namespace {

using takehold::testing::WeakDisk;

class DiskTrouble : public ::testing::TestWithParam<WeakDisk::Fault> {
 protected:
  WeakDisk disk_;
};

TEST_P(DiskTrouble, readings_wait_in_memory_and_are_written_once_when_the_disk_is_back) {
  LogInFolder kept;
  PatientLog patient(*kept.log);
  const auto round = [&](int i) {
    const std::vector one{reading(i * 10s, 20 + i, 90)};
    return patient.write(one, {}, kStart + i * 10s);
  };
  EXPECT_GT(round(0).readings.at(0).row, 0);
  disk_.fail_with(GetParam());
  for (int i = 1; i <= 5; ++i) {
    EXPECT_EQ(round(i).readings.at(0).row, 0) << "told, but without a row";
  }
  EXPECT_GT(disk_.refused(), 0);
  ASSERT_TRUE(patient.trouble());
  EXPECT_EQ(patient.trouble()->waiting, 5u);
  EXPECT_EQ(patient.trouble()->since, kStart + 10s);
  EXPECT_FALSE(patient.trouble()->error.empty());
  EXPECT_TRUE(patient.is_waiting("left", kStart + 30s));
  disk_.fail_with(WeakDisk::Fault::none);
  round(6);
  EXPECT_FALSE(patient.trouble());
  const auto all = kept.all("left");
  ASSERT_EQ(all.size(), 7u);
  for (int i = 0; i < 7; ++i) {
    EXPECT_EQ(all[std::size_t(i)].reading.temperature->degc(), 20 + i);
  }
}

INSTANTIATE_TEST_SUITE_P(Of, DiskTrouble,
                         ::testing::Values(WeakDisk::Fault::full, WeakDisk::Fault::read_only,
                                           WeakDisk::Fault::sync_fails),
                         [](const auto& fault) -> std::string {
                           if (fault.param == WeakDisk::Fault::full) return "a_full_disk";
                           if (fault.param == WeakDisk::Fault::read_only) return "a_read_only_disk";
                           return "a_sync_that_fails";
                         });

TEST(DiskTroubleBound, memory_is_bounded_and_what_was_given_up_is_noted_as_a_gap) {
  WeakDisk disk;
  LogInFolder kept;
  PatientLog patient(*kept.log, {10, 10});
  disk.fail_with(WeakDisk::Fault::full);
  for (int i = 0; i < 25; ++i) {
    const std::vector one{reading(i * 10s, 20, 90)};
    patient.write(one, {}, kStart + i * 10s);
  }
  EXPECT_EQ(patient.trouble()->waiting, 10u);
  EXPECT_EQ(patient.trouble()->given_up, 15);
  disk.fail_with(WeakDisk::Fault::none);
  patient.write({}, {}, kStart + 300s);
  EXPECT_EQ(kept.all("left").size(), 10u);
  const auto gap = takehold::testing::output_of("sqlite3 '" + kept.file +
                                                "' 'SELECT to_ms - from_ms, why FROM gap'");
  EXPECT_EQ(gap, "140000|2\n");
}

// The kernel itself refuses, not our layer.
TEST(DiskTroubleReal, a_file_that_may_not_grow_is_survived_too) {
  LogInFolder kept;
  PatientLog patient(*kept.log);
  std::vector<sensors::Reading> many;
  for (int i = 0; i < 3000; ++i) many.push_back(reading(i * 10s, 20, 90));
  // The process's own limit on file sizes stands for the end of the disk: the write fails in the
  // kernel, in the middle of a transaction.
  rlimit before{};
  ::getrlimit(RLIMIT_FSIZE, &before);
  const rlimit small{64 * 1024, before.rlim_max};
  const auto handler = ::signal(SIGXFSZ, SIG_IGN);
  ::setrlimit(RLIMIT_FSIZE, &small);
  patient.write(many, {}, kStart);
  const auto waiting = patient.trouble() ? patient.trouble()->waiting : 0;
  ::setrlimit(RLIMIT_FSIZE, &before);
  ::signal(SIGXFSZ, handler);
  EXPECT_EQ(waiting, many.size());
  patient.write({}, {}, kStart + 1h);
  EXPECT_FALSE(patient.trouble());
  EXPECT_EQ(kept.all("left").size(), many.size());
}

}  // namespace
}  // namespace takehold::daemon
