// A span of time in equal buckets, out of the coarsest rollups that serve. Only for the sources of
// this folder.
#pragma once

#include <SQLiteCpp/SQLiteCpp.h>

#include <vector>

#include "daemon/log/rollup.hpp"
#include "daemon/log/rollup_table.hpp"

namespace takehold::daemon {

class Chart {
 public:
  /// [from, to) in `points` buckets for each of `probes`, by number.
  Chart(sensors::Instant from, sensors::Instant to, int points, std::vector<std::int64_t> probes);

  void fill(SQLite::Database& database);
  /// One row a probe, in the order asked for.
  std::vector<std::vector<Bucket>> buckets() const;

 private:
  struct Point {
    sensors::Instant at;
    double value;
  };
  struct Part {
    sensors::Instant from, to;
  };

  void fill(SQLite::Database& database, sensors::Instant from, sensors::Instant to, int level);
  void fill_raw(SQLite::Database& database, sensors::Instant from, sensors::Instant to);
  void add_line(std::vector<Rollup>& cells, const Point& from, const Point& to, const Part& part,
                sensors::Told quantity);
  int index_of(sensors::Instant at) const;
  /// Of the probe in probes_ and cells_; none: it was not asked for.
  std::optional<std::size_t> place_of(std::int64_t probe) const;
  sensors::Instant border(int i) const { return from_ + (to_ - from_) * std::int64_t(i) / points_; }

  sensors::Instant from_, to_;
  int points_;
  std::vector<std::int64_t> probes_;
  std::vector<std::vector<Rollup>> cells_;
  std::optional<sensors::Instant> settled_;  ///< rollups that end before it are written
};

}  // namespace takehold::daemon
