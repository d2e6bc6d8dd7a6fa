#include "daemon/log/rollup_writer.hpp"

#include <cmath>
#include <set>

#include "daemon/healing/band.hpp"
#include "daemon/log/columns.hpp"
#include "daemon/log/stretches.hpp"

namespace takehold::daemon {

using sensors::Instant;
using sensors::Reading;
using namespace columns;
using namespace std::chrono_literals;

namespace {

/// As it comes back from the disk: a rollup must not depend on whether we were started in between.
Reading as_kept(Reading reading) {
  const auto keep = [](auto& value) {
    using Quantity = std::decay_t<decltype(*value)>;
    if (value) value = quantity_of<Quantity>(double(std::llround(number_of(*value) * 1000)) / 1000);
  };
  keep(reading.temperature);
  keep(reading.humidity);
  keep(reading.extras.leaf_temperature);
  keep(reading.extras.co2);
  keep(reading.extras.light);
  return reading;
}

/// Whatever can still be open began in this hour or the one before.
Instant open_since(Instant newest) {
  return begin_of(newest - kLongestLine, 1h) - kLongestLine;
}

}  // namespace

RollupWriter::ProbeState& RollupWriter::state_of(std::int64_t probe) {
  const auto found = probes_.find(probe);
  if (found != probes_.end()) return found->second;
  const Builders fresh = {RollupBuilder(kRollupLevels[0].length),
                          RollupBuilder(kRollupLevels[1].length),
                          RollupBuilder(kRollupLevels[2].length)};
  return probes_.emplace(probe, ProbeState{fresh, std::nullopt}).first->second;
}

void RollupWriter::write(std::size_t level, std::int64_t probe, std::vector<Rollup>& done,
                         Instant from, Instant to) {
  for (const auto& rollup : done) {
    if (rollup.from >= from && rollup.from < to) tables_.write(level, probe, rollup);
  }
  done.clear();
}

void RollupWriter::write(std::size_t level, std::int64_t probe, std::vector<Rollup>& done) {
  write(level, probe, done, Instant::min(), Instant::max());
}

void RollupWriter::feed(std::optional<std::int64_t> probe, Instant first, Instant past,
                        Instant from, Instant to) {
  std::vector<Rollup> done;
  each_row(database_, first, past, probe, [&](const RawRow& row) {
    auto& state = state_of(row.probe);
    for (std::size_t level = 0; level < kRollupLevels.size(); ++level) {
      state.builders[level].see(row.reading, done);
      write(level, row.probe, done, from, to);
    }
    state.last_at = row.reading.at;
  });
}

void RollupWriter::resume(std::optional<Instant> newest) {
  probes_.clear();
  if (!newest) return;
  feed(std::nullopt, open_since(*newest), *newest + 1ms, Instant::max(), Instant::max());
  std::vector<Rollup> written_already;
  for (auto& [probe, state] : probes_) {
    for (auto& builder : state.builders) builder.pass(*newest, written_already);
  }
}

void RollupWriter::write(const std::vector<std::pair<std::int64_t, Reading>>& rows,
                         Instant newest) {
  std::set<std::pair<std::int64_t, Instant>> late;
  std::vector<Rollup> done;
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
      write(level, probe, done);
    }
  }
  for (auto& [probe, state] : probes_) {
    for (std::size_t level = 0; level < kRollupLevels.size(); ++level) {
      state.builders[level].pass(newest, done);
      write(level, probe, done);
    }
  }
  for (const auto& [probe, hour] : late) rebuild(probe, hour, newest);
}

void RollupWriter::rebuild(std::int64_t probe, Instant hour, Instant newest) {
  probes_.erase(probe);
  feed(probe, hour - kLongestLine, hour + 1h + kLongestLine, hour, hour + 1h);
  if (hour + 1h + kLongestLine >= newest) return;  // the builders go on from here
  std::vector<Rollup> done;
  auto& state = state_of(probe);
  for (std::size_t level = 0; level < kRollupLevels.size(); ++level) {
    state.builders[level].finish(done);
    write(level, probe, done, hour, hour + 1h);
  }
  probes_.erase(probe);
  feed(probe, open_since(newest), newest + 1ms, Instant::max(), Instant::max());
  for (auto& builder : state_of(probe).builders) builder.pass(newest, done);
}

void RollupWriter::make_anew(Instant from, Instant newest) {
  probes_.clear();
  const Instant hour = begin_of(from, 1h);
  tables_.erase(hour, newest + 1h);
  feed(std::nullopt, hour - kLongestLine, newest + 1ms, hour, Instant::max());
  std::vector<Rollup> done;
  for (auto& [probe, state] : probes_) {
    for (std::size_t level = 0; level < kRollupLevels.size(); ++level) {
      state.builders[level].pass(newest, done);
      write(level, probe, done, hour, Instant::max());
    }
  }
}

}  // namespace takehold::daemon
