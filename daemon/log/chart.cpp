#include "daemon/log/chart.hpp"

#include <algorithm>

#include "daemon/log/columns.hpp"
#include "daemon/log/stretches.hpp"

namespace takehold::daemon {

using sensors::Instant;
using std::chrono::milliseconds;

namespace {

constexpr int kRaw = -1;

/// The begin of the first stretch of `length` not before `at`.
Instant next_begin(Instant at, milliseconds length) {
  const Instant begin = begin_of(at, length);
  return begin == at ? at : begin + length;
}

}  // namespace

Chart::Chart(Instant from, Instant to, int points, std::vector<std::int64_t> probes)
    : from_(from), to_(to), points_(points), probes_(std::move(probes)) {
  cells_.assign(probes_.size(), std::vector<Rollup>(std::size_t(points)));
}

void Chart::fill(SQLite::Database& database) {
  SQLite::Statement newest(database, "SELECT at_ms FROM reading_at ORDER BY row DESC LIMIT 1");
  if (!newest.executeStep()) return;
  settled_ = columns::instant_of(newest.getColumn(0).getInt64()) - kLongestLine;
  newest.reset();
  const milliseconds step = (to_ - from_) / points_;
  int level = kRaw;
  while (level + 1 < int(kRollupLevels.size()) &&
         kRollupLevels[std::size_t(level + 1)].length <= step) {
    ++level;
  }
  fill(database, from_, to_, level);
}

/// What lies before the first whole rollup and after the last that is settled comes from below.
void Chart::fill(SQLite::Database& database, Instant from, Instant to, int level) {
  if (from >= to) return;
  if (level == kRaw) return fill_raw(database, from, to);
  const auto& rollups = kRollupLevels[std::size_t(level)];
  const Instant first = next_begin(from, rollups.length);
  const Instant past = begin_of(std::min(to, *settled_), rollups.length);
  if (first >= past) return fill(database, from, to, level - 1);
  fill(database, from, first, level - 1);
  each_rollup(database, rollups, first, past, [&](std::int64_t probe, const Rollup& rollup) {
    const auto place = place_of(probe);
    const Instant middle = rollup.from + rollups.length / 2;
    if (!place || middle < from_ || middle >= to_) return;
    auto& into = cells_[*place][std::size_t(index_of(middle))];
    for (const auto told : sensors::kAllTold) {
      sensors::place_of(into, told).add(sensors::place_of(rollup, told));
    }
  });
  fill(database, past, to, level - 1);
}

void Chart::fill_raw(SQLite::Database& database, Instant from, Instant to) {
  using Lasts = std::array<std::optional<Point>, sensors::kAllTold.size()>;
  std::vector<Lasts> lasts(probes_.size());
  const auto only = probes_.size() == 1 ? std::optional(probes_.front()) : std::nullopt;
  // Lines that come in from before and go out to after are drawn too, as far as they lie inside.
  each_row(database, from - kLongestLine, to + kLongestLine, only, [&](const RawRow& row) {
    const auto place = place_of(row.probe);
    if (!place || !is_charted(row.reading)) return;
    const Instant at = row.reading.at;
    auto& cells = cells_[*place];
    Rollup* into = at >= from && at < to ? &cells[std::size_t(index_of(at))] : nullptr;
    for (const auto quantity : sensors::kAllTold) {
      const auto value = value_of(row.reading, quantity);
      if (!value) continue;
      auto& before = lasts[*place][std::size_t(quantity)];
      const Point now{at, *value};
      if (before && now.at - before->at <= kLongestLine) {
        add_line(cells, *before, now, {from, to}, quantity);
      }
      before = now;
      if (into != nullptr) sensors::place_of(*into, quantity).add_reading(*value);
    }
  });
}

void Chart::add_line(std::vector<Rollup>& cells, const Point& from, const Point& to,
                     const Part& part, sensors::Told quantity) {
  const auto value_at = [&](Instant at) {
    return from.value + (to.value - from.value) * double((at - from.at).count()) /
                            double((to.at - from.at).count());
  };
  const Instant end = std::min(to.at, part.to);
  for (Instant at = std::max(from.at, part.from); at < end;) {
    const int index = index_of(at);
    const Instant next = std::min(end, border(index + 1));
    sensors::place_of(cells[std::size_t(index)], quantity)
        .add_line((value_at(at) + value_at(next)) / 2, (next - at).count());
    at = next;
  }
}

int Chart::index_of(Instant at) const {
  auto index = int((at - from_).count() * points_ / (to_ - from_).count());
  while (index + 1 < points_ && border(index + 1) <= at) ++index;  // borders are whole ms
  return index;
}

std::optional<std::size_t> Chart::place_of(std::int64_t probe) const {
  const auto found = std::find(probes_.begin(), probes_.end(), probe);
  if (found == probes_.end()) return std::nullopt;
  return std::size_t(found - probes_.begin());
}

std::vector<std::vector<Bucket>> Chart::buckets() const {
  std::vector<std::vector<Bucket>> all;
  for (const auto& row : cells_) {
    auto& buckets = all.emplace_back();
    buckets.reserve(row.size());
    for (int i = 0; i < points_; ++i) {
      const auto& cell = row[std::size_t(i)];
      buckets.push_back({border(i), cell.temperature.spread(), cell.humidity.spread(),
                         cell.leaf_temperature.spread(), cell.co2.spread(), cell.light.spread()});
    }
  }
  return all;
}

}  // namespace takehold::daemon
