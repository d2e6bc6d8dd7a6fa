// The whole way of a reading (decode, judge, roll up, store) against a bare loop of SQLite's own
// interface into the same table, both one commit a round of four and synchronous FULL.
// usage: bench_log_write [FOLDER [ROUNDS]]; asked of the ratio: at least 0.6.

#include <fmt/format.h>
#include <sqlite3.h>

#include <chrono>
#include <cstdlib>
#include <filesystem>
#include <string>

#include "daemon/log/chamber_log.hpp"
#include "sensors/check/judge.hpp"
#include "sensors/codec/line_decoder.hpp"

namespace {

using namespace takehold;
using namespace std::chrono_literals;
using Clock = std::chrono::steady_clock;

const sensors::Instant kStart = sensors::parse_instant("2027-04-12T09:00:00Z").value();
const std::vector<std::string> kProbes{"first", "second", "third", "fourth"};

double seconds_since(Clock::time_point begin) {
  return std::chrono::duration<double>(Clock::now() - begin).count();
}

double whole_way(const std::string& file, int rounds) {
  daemon::ChamberLog log(file);
  for (const auto& probe : kProbes) log.add_probe(probe, "chamber");
  const auto decoder =
      sensors::LineDecoder::make(
          sensors::PatternText{"T=(?<temperature>[-0-9.]+) H=(?<humidity>[0-9.]+)"})
          .value();
  const auto begin = Clock::now();
  for (int i = 0; i < rounds; ++i) {
    std::vector<sensors::Reading> readings;
    for (const auto& probe : kProbes) {
      const auto told = decoder.decode(fmt::format("T={} H={}", 22 + i % 50 * 0.1, 95.5)).value();
      sensors::Reading reading{probe, kStart + i * 10s, told.temperature, told.humidity};
      readings.push_back(sensors::judge(reading).reading);
    }
    log.write(readings, {});
  }
  return seconds_since(begin);
}

void run(sqlite3* database, const char* sql) {
  if (sqlite3_exec(database, sql, nullptr, nullptr, nullptr) != SQLITE_OK) std::abort();
}

double bare_loop(const std::string& file, int rounds) {
  sqlite3* database = nullptr;
  sqlite3_open(file.c_str(), &database);
  run(database, "PRAGMA journal_mode=WAL");
  run(database, "PRAGMA synchronous=FULL");
  run(database,
      "CREATE TABLE reading (row INTEGER PRIMARY KEY, after_ms INTEGER NOT NULL, probe INTEGER NOT "
      "NULL, temperature_mdegc INTEGER, humidity_mpct INTEGER, quality INTEGER NOT NULL) STRICT");
  sqlite3_stmt* put = nullptr;
  sqlite3_prepare_v2(database, "INSERT INTO reading VALUES (?,?,?,?,?,?)", -1, &put, nullptr);
  const auto begin = Clock::now();
  sqlite3_int64 row = 0;
  for (int i = 0; i < rounds; ++i) {
    run(database, "BEGIN IMMEDIATE");
    for (int probe = 1; probe <= int(kProbes.size()); ++probe) {
      sqlite3_bind_int64(put, 1, ++row);
      sqlite3_bind_int64(put, 2, i * 10000);
      sqlite3_bind_int64(put, 3, probe);
      sqlite3_bind_int64(put, 4, 22000 + i % 50 * 100);
      sqlite3_bind_int64(put, 5, 95500);
      sqlite3_bind_int64(put, 6, 0);
      if (sqlite3_step(put) != SQLITE_DONE) std::abort();
      sqlite3_reset(put);
    }
    run(database, "COMMIT");
  }
  const double took = seconds_since(begin);
  sqlite3_finalize(put);
  sqlite3_close(database);
  return took;
}

}  // namespace

int main(int count, char** words) {
  namespace fs = std::filesystem;
  std::string name = (fs::path(count > 1 ? words[1] : "/var/tmp") / "log-bench-XXXXXX").string();
  if (::mkdtemp(name.data()) == nullptr) return 1;
  const int rounds = count > 2 ? std::atoi(words[2]) : 1000;
  double ours = 0, bare = 0;
  for (int turn = 0; turn < 3; ++turn) {  // in turns, for the machine may be busy
    bare += bare_loop(name + "/bare" + std::to_string(turn), rounds);
    ours += whole_way(name + "/ours" + std::to_string(turn), rounds);
  }
  fmt::print("{} rounds of 4: bare {:.3f} ms a round, whole way {:.3f} ms: ratio {:.2f}\n",
             3 * rounds, bare / rounds / 3 * 1000, ours / rounds / 3 * 1000, bare / ours);
  fs::remove_all(name);
  return 0;
}
