#include "daemon/log/rollup_table.hpp"

#include <cmath>
#include <set>

#include "daemon/log/columns.hpp"
#include "daemon/log/stretches.hpp"

namespace takehold::daemon {

using sensors::Instant;
using sensors::Reading;
using namespace columns;
using namespace std::chrono_literals;

namespace {

void bind_gathered(SQLite::Statement& put, int first, const Gathered& gathered) {
  const auto spread = gathered.spread();
  if (!spread) return;
  put.bind(first, static_cast<std::int64_t>(std::llround(spread->mean * 1000)));
  put.bind(first + 1, static_cast<std::int64_t>(std::llround(spread->low * 1000)));
  put.bind(first + 2, static_cast<std::int64_t>(std::llround(spread->high * 1000)));
}

Gathered gathered_of(const SQLite::Statement& look, int first, std::int64_t count,
                     std::int64_t observed_ms) {
  Gathered gathered;
  if (look.getColumn(first).isNull()) return gathered;
  const double mean = double(look.getColumn(first).getInt64()) / 1000;
  gathered.count = count;
  gathered.sum = mean * double(count);
  gathered.add_line(mean, observed_ms);
  gathered.low = double(look.getColumn(first + 1).getInt64()) / 1000;
  gathered.high = double(look.getColumn(first + 2).getInt64()) / 1000;
  return gathered;
}

Reading reading_of(const RawRow& row) {
  return {"", row.at, row.temperature, row.humidity, row.quality};
}

/// As it comes back from the disk: a rollup must not depend on whether we were started in between.
Reading as_kept(Reading reading) {
  using sensors::Celsius;
  if (const auto t = milli(reading.temperature))
    reading.temperature = Celsius::degc(double(*t) / 1000);
  if (const auto h = milli(reading.humidity)) {
    reading.humidity = sensors::RelativeHumidity::pct(double(*h) / 1000);
  }
  return reading;
}

}  // namespace

std::int64_t rollup_key(Instant from, std::chrono::milliseconds length, std::int64_t probe) {
  return ms_of(begin_of(from, length)) / length.count() * kMostProbes + probe;
}

void write_rollup(SQLite::Database& database, const RollupLevel& level, std::int64_t probe,
                  const Rollup& rollup) {
  SQLite::Statement put(database, std::string("INSERT OR REPLACE INTO ") + level.table +
                                      " VALUES (?,?,?,?,?,?,?,?,?)");
  put.bind(1, rollup_key(rollup.from, level.length, probe));
  put.bind(2, std::max(rollup.temperature.count, rollup.humidity.count));
  put.bind(3, std::max(rollup.temperature.observed_ms, rollup.humidity.observed_ms));
  bind_gathered(put, 4, rollup.temperature);
  bind_gathered(put, 7, rollup.humidity);
  put.exec();
}

void each_rollup(SQLite::Database& database, const RollupLevel& level, Instant from, Instant to,
                 const std::function<void(std::int64_t, const Rollup&)>& visit) {
  SQLite::Statement look(database, std::string("SELECT * FROM ") + level.table +
                                       " WHERE key >= ? AND key < ? ORDER BY key");
  look.bind(1, rollup_key(from, level.length, 0));
  look.bind(2, rollup_key(to, level.length, 0));
  while (look.executeStep()) {
    const auto key = look.getColumn(0).getInt64();
    const auto count = look.getColumn(1).getInt64();
    const auto observed = look.getColumn(2).getInt64();
    visit(key % kMostProbes,
          {instant_of(key / kMostProbes * level.length.count()),
           gathered_of(look, 3, count, observed), gathered_of(look, 6, count, observed)});
  }
}

RollupWriter::ProbeState& RollupWriter::state_of(std::int64_t probe) {
  const auto found = probes_.find(probe);
  if (found != probes_.end()) return found->second;
  const Builders fresh = {RollupBuilder(kRollupLevels[0].length),
                          RollupBuilder(kRollupLevels[1].length),
                          RollupBuilder(kRollupLevels[2].length)};
  return probes_.emplace(probe, ProbeState{fresh, std::nullopt}).first->second;
}

void RollupWriter::resume(SQLite::Database& database, std::optional<Instant> newest) {
  probes_.clear();
  if (!newest) return;
  // Whatever can still be open began in this hour or the one before.
  std::vector<Rollup> written_already;
  each_row(database, begin_of(*newest - kLongestLine, 1h) - kLongestLine, *newest + 1ms,
           std::nullopt, [&](const RawRow& row) {
             auto& state = state_of(row.probe);
             for (auto& builder : state.builders) builder.see(reading_of(row), written_already);
             state.last_at = row.at;
             written_already.clear();
           });
  for (auto& [probe, state] : probes_) {
    for (auto& builder : state.builders) builder.pass(*newest, written_already);
  }
}

void RollupWriter::write(SQLite::Database& database,
                         const std::vector<std::pair<std::int64_t, Reading>>& rows,
                         Instant newest) {
  std::set<std::pair<std::int64_t, Instant>> late;
  std::vector<Rollup> done;
  const auto flush = [&](std::int64_t probe, std::size_t level) {
    for (const auto& rollup : done) write_rollup(database, kRollupLevels[level], probe, rollup);
    done.clear();
  };
  for (const auto& [probe, reading] : rows) {
    auto& state = state_of(probe);
    if (state.last_at && reading.at <= *state.last_at) {
      late.insert({probe, begin_of(reading.at, 1h)});
      late.insert({probe, begin_of(reading.at + kLongestLine, 1h)});  // its line may reach there
      continue;
    }
    state.last_at = reading.at;
    const Reading kept = as_kept(reading);
    for (std::size_t level = 0; level < kRollupLevels.size(); ++level) {
      state.builders[level].see(kept, done);
      flush(probe, level);
    }
  }
  for (auto& [probe, state] : probes_) {
    for (std::size_t level = 0; level < kRollupLevels.size(); ++level) {
      state.builders[level].pass(newest, done);
      if (!done.empty()) flush(probe, level);
    }
  }
  for (const auto& [probe, hour] : late) rebuild(database, probe, hour, newest);
}

void RollupWriter::rebuild(SQLite::Database& database, std::int64_t probe, Instant hour,
                           Instant newest) {
  probes_.erase(probe);
  auto& state = state_of(probe);
  std::array<std::vector<Rollup>, kRollupLevels.size()> done;
  const auto feed = [&](Instant from, Instant to) {
    each_row(database, from, to, probe, [&](const RawRow& row) {
      for (std::size_t i = 0; i < done.size(); ++i) {
        state.builders[i].see(reading_of(row), done[i]);
      }
      state.last_at = row.at;
    });
  };
  feed(hour - kLongestLine, hour + 1h + kLongestLine);
  const bool over = hour + 1h + kLongestLine < newest;
  for (std::size_t i = 0; i < done.size(); ++i) {
    if (over) state.builders[i].finish(done[i]);
    for (const auto& rollup : done[i]) {
      if (rollup.from < hour || rollup.from >= hour + 1h) continue;
      write_rollup(database, kRollupLevels[i], probe, rollup);
    }
  }
  if (!over) return;  // the builders go on from here
  probes_.erase(probe);
  auto& fresh = state_of(probe);
  std::vector<Rollup> written_already;
  each_row(database, begin_of(newest - kLongestLine, 1h) - kLongestLine, newest + 1ms, probe,
           [&](const RawRow& row) {
             for (auto& builder : fresh.builders) builder.see(reading_of(row), written_already);
             fresh.last_at = row.at;
           });
  for (auto& builder : fresh.builders) builder.pass(newest, written_already);
}

}  // namespace takehold::daemon
