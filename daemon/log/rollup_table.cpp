#include "daemon/log/rollup_table.hpp"

#include <cmath>

#include "daemon/log/columns.hpp"

namespace takehold::daemon {

using sensors::Instant;
using sensors::Told;
using namespace columns;

namespace {

/// As `beside.kind` has them.
constexpr std::pair<Told, std::int64_t> kBesideKinds[] = {
    {Told::leaf_temperature, 1}, {Told::co2, 2}, {Told::light, 3}};

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

SQLite::Statement rows_between(SQLite::Database& database, const char* table, std::int64_t from,
                               std::int64_t to) {
  SQLite::Statement look(
      database, std::string("SELECT * FROM ") + table + " WHERE key >= ? AND key < ? ORDER BY key");
  look.bind(1, from);
  look.bind(2, to);
  return look;
}

}  // namespace

std::int64_t rollup_key(Instant from, std::chrono::milliseconds length, std::int64_t probe) {
  return ms_of(begin_of(from, length)) / length.count() * kMostProbes + probe;
}

RollupTables::RollupTables(SQLite::Database& database) : database_(database) {
  for (const auto& level : kRollupLevels) {
    puts_.try_emplace(
        level.table, database,
        std::string("INSERT OR REPLACE INTO ") + level.table + " VALUES (?,?,?,?,?,?,?,?,?)");
    puts_.try_emplace(
        level.beside_table, database,
        std::string("INSERT OR REPLACE INTO ") + level.beside_table + " VALUES (?,?,?,?,?,?)");
  }
}

void RollupTables::write(std::size_t index, std::int64_t probe, const Rollup& rollup) {
  const auto& level = kRollupLevels[index];
  const auto key = rollup_key(rollup.from, level.length, probe);
  const auto put = [&](const char* table, std::int64_t with_key, std::int64_t count,
                       std::int64_t observed, std::initializer_list<const Gathered*> all) {
    auto& statement = puts_.at(table);
    statement.reset();
    statement.clearBindings();
    statement.bind(1, with_key);
    statement.bind(2, count);
    statement.bind(3, observed);
    int column = 4;
    for (const auto* gathered : all) {
      bind_gathered(statement, column, *gathered);
      column += 3;
    }
    statement.exec();
    statement.reset();
  };
  const auto& [warm, moist] = std::tie(rollup.temperature, rollup.humidity);
  if (warm.count + moist.count > 0) {
    put(level.table, key, std::max(warm.count, moist.count),
        std::max(warm.observed_ms, moist.observed_ms), {&warm, &moist});
  }
  for (const auto& [told, kind] : kBesideKinds) {
    const auto& gathered = sensors::place_of(rollup, told);
    if (gathered.count == 0) continue;
    put(level.beside_table, key * kMostKinds + kind, gathered.count, gathered.observed_ms,
        {&gathered});
  }
}

void RollupTables::erase(Instant from, Instant to) {
  for (const auto& level : kRollupLevels) {
    const auto first = rollup_key(from, level.length, 0), past = rollup_key(to, level.length, 0);
    for (const auto& [table, kinds] :
         {std::pair(level.table, std::int64_t(1)), std::pair(level.beside_table, kMostKinds)}) {
      SQLite::Statement erase(database_,
                              std::string("DELETE FROM ") + table + " WHERE key >= ? AND key < ?");
      erase.bind(1, first * kinds);
      erase.bind(2, past * kinds);
      erase.exec();
    }
  }
}

void each_rollup(SQLite::Database& database, const RollupLevel& level, Instant from, Instant to,
                 const std::function<void(std::int64_t, const Rollup&)>& visit) {
  const auto first = rollup_key(from, level.length, 0), past = rollup_key(to, level.length, 0);
  const auto begin = [&](std::int64_t key) {
    return instant_of(key / kMostProbes * level.length.count());
  };
  auto air = rows_between(database, level.table, first, past);
  while (air.executeStep()) {
    const auto key = air.getColumn(0).getInt64();
    const auto count = air.getColumn(1).getInt64();
    const auto observed = air.getColumn(2).getInt64();
    visit(key % kMostProbes,
          {begin(key), gathered_of(air, 3, count, observed), gathered_of(air, 6, count, observed)});
  }
  auto beside = rows_between(database, level.beside_table, first * kMostKinds, past * kMostKinds);
  while (beside.executeStep()) {
    const auto key = beside.getColumn(0).getInt64() / kMostKinds;
    const auto kind = beside.getColumn(0).getInt64() % kMostKinds;
    Rollup rollup{begin(key)};
    for (const auto& [told, known] : kBesideKinds) {
      if (known != kind) continue;
      sensors::place_of(rollup, told) =
          gathered_of(beside, 3, beside.getColumn(1).getInt64(), beside.getColumn(2).getInt64());
    }
    visit(key % kMostProbes, rollup);
  }
}

}  // namespace takehold::daemon
