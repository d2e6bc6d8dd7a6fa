#include "daemon/log/chamber_log.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <random>

#include "tests/daemon/log/readings.hpp"

namespace takehold::daemon {
namespace {

using takehold::testing::output_of;

std::string sql(const std::string& file, const std::string& query) {
  return output_of("sqlite3 '" + file + "' \"" + query + "\"");
}

TEST(ChamberLog, sqlites_own_shell_finds_each_reading_with_its_time) {
  LogInFolder kept;
  kept.write({reading(0s, 23.456, 95.5)});
  EXPECT_EQ(sql(kept.file, "SELECT at_ms, probe, temperature_mdegc, humidity_mpct FROM reading_at"),
            std::to_string(kStart.time_since_epoch().count()) + "|left|23456|95500\n");
}

// The design's bound, measured as SQLite itself counts pages: 4 probes every 10 s for two days.
TEST(ChamberLog, a_reading_takes_no_more_than_24_bytes) {
  LogInFolder kept;
  const std::vector<std::string> probes{"left", "right", "third", "fourth"};
  for (const auto& probe : probes) kept.log->add_probe(probe, "chamber");
  std::mt19937 random(7);
  std::vector<sensors::Reading> batch;
  for (auto at = 0s; at < 48h; at += 10s) {
    for (const auto& probe : probes) {
      batch.push_back(reading(at, 22 + double(random() % 6000) / 1000,
                              90 + double(random() % 9000) / 1000, probe));
    }
    if (batch.size() >= 4000) kept.write(std::exchange(batch, {}));
  }
  kept.write(batch);
  kept.log.reset();
  // A log months old has row numbers of four bytes; here they take three: one more is counted.
  const double bytes = std::stod(sql(kept.file,
                                     "SELECT sum(pgsize) * 1.0 / (SELECT count(*) FROM reading) "
                                     "FROM dbstat WHERE name IN ('reading', 'stretch', "
                                     "'stretch_time')"));
  EXPECT_GT(bytes, 15);
  EXPECT_LE(bytes + 1, 24);
  RecordProperty("bytes_a_reading", std::to_string(bytes));
}

TEST(ChamberLog, readings_come_back_in_order_of_time_whenever_they_were_delivered) {
  LogInFolder kept;
  kept.write({reading(10s, 20, 90), reading(0s, 21, 91)});
  kept.write({reading(6h, 22, 92)});
  kept.write({reading(3h, 23, 93), reading(-20h, 24, 94)});
  kept.write({reading(6h + 10s, 25, 95)});
  std::vector<double> warmth;
  for (const auto& [row, one] : kept.all("left")) warmth.push_back(one.temperature->degc());
  EXPECT_THAT(warmth, ::testing::ElementsAre(24, 21, 20, 23, 22, 25));
}

TEST(ChamberLog, a_span_holds_its_begin_and_not_its_end) {
  LogInFolder kept;
  kept.write({reading(0s, 20, 90), reading(10s, 21, 90), reading(20s, 22, 90)});
  const auto found = open_log_reader(kept.file)->readings("left", kStart, kStart + 20s);
  ASSERT_EQ(found.size(), 2u);
  EXPECT_EQ(kept.log->times("left", kStart + 10s, kStart + 20s).size(), 1u);
}

TEST(ChamberLog, what_was_written_is_there_after_opening_again_and_rows_go_on) {
  LogInFolder kept;
  kept.write({reading(0s, 20, 90)});
  const auto row = kept.log->last_row();
  kept.open();
  kept.write({reading(10s, 21, 90)});
  EXPECT_EQ(kept.log->last_row(), row + 1);
  EXPECT_EQ(kept.all("left").size(), 2u);
  EXPECT_EQ(kept.log->newest_at(), kStart + 10s);
}

TEST(ChamberLog, pruning_takes_the_oldest_in_bounded_pieces_and_leaves_hours) {
  LogInFolder kept;
  std::vector<sensors::Reading> batch;
  for (auto at = 0min; at < 96h; at += 1min) batch.push_back(reading(at, 20, 90));
  kept.write(batch);
  const auto before = kStart + 48h;
  int pieces = 0;
  while (kept.log->prune(before, 500)) ++pieces;
  EXPECT_GE(pieces, 3);
  const auto left = kept.all("left");
  ASSERT_FALSE(left.empty());
  EXPECT_LE(left.front().reading.at, before);               // nothing that must stay is gone
  EXPECT_GE(left.front().reading.at, before - 2h - 21min);  // and a stretch at most stays longer
  EXPECT_EQ(left.size(), std::size_t((kStart + 96h - left.front().reading.at) / 1min));
  EXPECT_EQ(sql(kept.file, "SELECT count(*) FROM rollup_hour"), "95\n");
  EXPECT_FALSE(kept.log->prune(before, 500));
}

TEST(ChamberLog, a_clock_set_back_makes_what_comes_next_the_newest) {
  LogInFolder kept;
  kept.write({reading(24h, 20, 90)});
  kept.log->note_clock_step(kStart, -24h);
  kept.write({reading(0s, 21, 91)});
  EXPECT_EQ(kept.log->newest_at(), kStart);
  kept.open();
  EXPECT_EQ(kept.log->newest_at(), kStart);
}

TEST(ChamberLog, a_backup_taken_while_writing_is_whole_and_opens) {
  LogInFolder kept;
  kept.write({reading(0s, 20, 90)});
  const auto copy = kept.folder.path("copy.db");
  back_up_log(kept.file, copy);
  kept.write({reading(10s, 21, 90)});
  EXPECT_EQ(sql(copy, "PRAGMA integrity_check"), "ok\n");
  EXPECT_EQ(ChamberLog(copy).newest_at(), kStart);
}

}  // namespace
}  // namespace takehold::daemon
