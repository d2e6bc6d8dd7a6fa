// What probes tell beside the air: kept, gathered, and carried over from logs of older versions.
#include <gtest/gtest.h>

#include <SQLiteCpp/SQLiteCpp.h>

#include "tests/daemon/log/readings.hpp"

namespace takehold::daemon {
namespace {

using takehold::testing::output_of;

std::string sql(const std::string& file, const std::string& query) {
  return output_of("sqlite3 '" + file + "' \"" + query + "\"");
}

std::vector<sensors::Reading> six_hours() {
  std::vector<sensors::Reading> readings;
  for (auto at = 0s; at < 6h; at += 10s) {
    auto one = reading(at, 24, 95);
    one.extras.co2 = sensors::CarbonDioxide::ppm(800 + double(at.count() % 3600) / 10);
    one.extras.leaf_temperature = sensors::Celsius::degc(23);
    if (at >= 3h) one.extras.light = sensors::PhotonFlux::umol(50);
    readings.push_back(one);
    readings.push_back(reading(at, 24, 95, "right"));
  }
  return readings;
}

// Against SQLite's own avg, min and max of the raw rows.
TEST(Beside, charts_of_every_level_agree_with_sqlites_own_count_of_raw_rows) {
  LogInFolder kept;
  kept.write(six_hours());
  kept.write({reading(7h, 24, 95)});  // so that the hours are over
  const auto reader = open_log_reader(kept.file);
  for (const int points : {6, 36, 360, 1800}) {
    SCOPED_TRACE(points);
    const auto left = reader->buckets({{"left"}, kStart, kStart + 6h, points}).at(0);
    const auto step = std::chrono::milliseconds(6h) / points;
    std::istringstream rows(sql(
        kept.file,
        "SELECT avg(value_milli), min(value_milli), max(value_milli) FROM beside JOIN reading_at "
        "ON row = reading WHERE kind = 2 GROUP BY (at_ms - " +
            std::to_string(kStart.time_since_epoch().count()) + ") / " +
            std::to_string(step.count()) + " ORDER BY at_ms"));
    for (const auto& bucket : left) {
      std::string mean, low, high;
      std::getline(std::getline(std::getline(rows, mean, '|'), low, '|'), high);
      ASSERT_TRUE(bucket.co2_ppm);
      EXPECT_EQ(bucket.co2_ppm->low * 1000, std::stod(low));
      EXPECT_EQ(bucket.co2_ppm->high * 1000, std::stod(high));
      // Weighed by time a ramp of 1 ppm in 10 s lies half a step of it above the mean of readings;
      // the line that falls back by 360 ppm each hour adds at most 180 ppm for 10 s of a bucket.
      const double fall = 180.0 * 10 / (double(step.count()) / 1000);
      EXPECT_NEAR(bucket.co2_ppm->mean, std::stod(mean) / 1000 + 0.5, 0.51 + fall);
      EXPECT_EQ(bucket.light_umol.has_value(), bucket.from >= kStart + 3h);
      EXPECT_NEAR(bucket.leaf_temperature_degc->mean, 23, 0.001);
    }
  }
  const auto right = reader->buckets({{"right"}, kStart, kStart + 6h, 6}).at(0);
  EXPECT_TRUE(right[2].temperature_degc);
  EXPECT_FALSE(right[2].co2_ppm);
}

TEST(Beside, a_late_delivery_and_a_restart_change_what_was_gathered_no_further) {
  auto readings = six_hours();
  readings.push_back(reading(7h, 24, 95));
  LogInFolder once;
  once.write(readings);
  LogInFolder often;
  std::vector<sensors::Reading> late;
  for (std::size_t i = 0; i < readings.size(); ++i) {
    if (i % 97 == 5) {
      late.push_back(readings[i]);
    } else {
      often.write({readings[i]});
      if (i % 1500 == 0) often.open();
    }
  }
  often.write(late);
  for (const char* table : {"rollup_beside_minute", "rollup_beside_hour"}) {
    const auto query = std::string("SELECT * FROM ") + table;
    EXPECT_EQ(sql(once.file, query), sql(often.file, query));
    EXPECT_GT(sql(once.file, query).size(), 200u);
  }
}

/// A log as version 2 left it, with one reading that has carbon dioxide beside it every ten
/// seconds.
void make_version_2(const std::string& file) {
  SQLite::Database database(file, SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
  database.exec("PRAGMA foreign_keys=ON; BEGIN");
  for (const auto& step : chamber_log_migrations()) {
    if (step.version <= 2) database.exec(std::string(step.sql));
  }
  database.exec("INSERT INTO probe VALUES (1, 'left', 'chamber')");
  database.exec("INSERT INTO calibration VALUES (1, 0, 1, 0.5, 1, 0, '2027-01-02')");
  database.exec(
      "WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < 1000) INSERT INTO "
      "reading SELECT i, " +
      std::to_string(kStart.time_since_epoch().count()) +
      " + i * 10000, 1, 24000, 95000, 0, 0 FROM n");
  database.exec("INSERT INTO beside SELECT row, 2, 800000 FROM reading");
  database.exec("PRAGMA application_id=" + std::to_string(kChamberLogId) +
                "; PRAGMA user_version=2; COMMIT");
}

TEST(Beside, a_log_of_version_2_keeps_all_and_its_charts_show_it) {
  takehold::testing::ScratchFolder folder;
  const auto file = folder.path("chamber.db");
  make_version_2(file);
  {
    ChamberLog log(file);
    EXPECT_EQ(sql(file, "SELECT count(*) FROM beside"), "1000\n");
    EXPECT_EQ(sql(file, "SELECT count(*) FROM reading"), "1000\n");
    EXPECT_EQ(sql(file, "SELECT DISTINCT temperature_mdegc FROM reading_as_told"), "23500\n");
    const auto found = open_log_reader(file)->buckets({{"left"}, kStart, kStart + 2h, 2}).at(0);
    ASSERT_TRUE(found[0].co2_ppm && found[1].temperature_degc);
    EXPECT_EQ(found[0].co2_ppm->mean, 800);
    EXPECT_EQ(found[1].temperature_degc->mean, 24);
    // References still hold: what goes takes what stands beside it along.
    while (log.prune(kStart + 48h)) {
    }
    EXPECT_EQ(sql(file, "SELECT count(*) FROM beside"), "0\n");
    EXPECT_EQ(sql(file, "PRAGMA foreign_key_check; PRAGMA integrity_check"), "ok\n");
  }
  EXPECT_EQ(sql(file + ".version-2", "SELECT count(*) FROM beside"), "1000\n");
}

}  // namespace
}  // namespace takehold::daemon
