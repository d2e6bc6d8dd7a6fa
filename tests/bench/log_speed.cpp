// How fast the chamber log writes and draws.
//   bench_log_speed path          decode, check and store, against a bare SQLite loop: the ratio
//   wanted is >= 0.6 bench_log_speed chart [DAYS]  charts out of a year (or DAYS) of four probes
//   every 10 s: each under 50 ms
#include <SQLiteCpp/SQLiteCpp.h>
#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdlib>
#include <filesystem>

#include "daemon/log/chamber_log.hpp"
#include "daemon/log/log_reader.hpp"
#include "sensors/check/judge.hpp"
#include "sensors/codec/line_decoder.hpp"

using namespace takehold;
using namespace std::chrono_literals;
using Clock = std::chrono::steady_clock;

namespace {

const sensors::Instant kStart = sensors::parse_instant("2027-01-01T00:00:00Z").value();
const std::vector<std::string> kProbes{"left", "right", "floor", "door"};

double seconds_since(Clock::time_point begun) {
  return std::chrono::duration<double>(Clock::now() - begun).count();
}

std::string new_folder() {
  std::string name = (std::filesystem::temp_directory_path() / "takehold-bench-XXXXXX").string();
  if (::mkdtemp(name.data()) == nullptr) std::abort();
  return name;
}

std::vector<std::string> lines(int count) {
  std::vector<std::string> all;
  for (int i = 0; i < count; ++i) {
    all.push_back(
        fmt::format("t={:.2f} h={:.1f}", 24 + 3 * std::sin(i / 400.0), 92 + (i % 60) / 10.0));
  }
  return all;
}

double ours(const std::string& folder, const std::vector<std::string>& told, int batch) {
  daemon::ChamberLog log(folder + "/ours.db");
  for (const auto& probe : kProbes) log.add_probe(probe, "chamber");
  auto decoder = sensors::LineDecoder::make(sensors::KeyValueMap{"t", "h", {}, {}, {}}).value();
  const auto begun = Clock::now();
  std::vector<sensors::Reading> round;
  for (std::size_t i = 0; i < told.size(); ++i) {
    const auto decoded = decoder.decode(told[i]);
    if (!decoded) std::abort();
    const sensors::Reading raw{kProbes[i % 4], kStart + std::int64_t(i / 4) * 10s,
                               decoded->temperature, decoded->humidity};
    round.push_back(sensors::judge(raw, {}).reading);
    if (int(round.size()) < batch) continue;
    log.write(round, {});
    round.clear();
  }
  return double(told.size()) / seconds_since(begun);
}

double bare(const std::string& folder, std::size_t count, int batch) {
  SQLite::Database database(folder + "/bare.db", SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
  database.exec("PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; PRAGMA cache_size=-512");
  database.exec(
      "CREATE TABLE reading (row INTEGER PRIMARY KEY, after_ms INTEGER NOT NULL, probe INTEGER NOT "
      "NULL, temperature_mdegc INTEGER, humidity_mpct INTEGER, quality INTEGER NOT NULL) STRICT");
  SQLite::Statement put(database, "INSERT INTO reading VALUES (?,?,?,?,?,?)");
  const auto begun = Clock::now();
  for (std::size_t i = 0; i < count;) {
    database.exec("BEGIN IMMEDIATE");
    for (int k = 0; k < batch && i < count; ++k, ++i) {
      put.reset();
      put.bind(1, std::int64_t(i + 1));
      put.bind(2, std::int64_t(i / 4 * 10000 % 8000000));
      put.bind(3, int(i % 4 + 1));
      put.bind(4, int(24000 + i % 3000));
      put.bind(5, int(92000 + i % 6000));
      put.bind(6, 0);
      put.exec();
    }
    put.reset();
    database.exec("COMMIT");
  }
  return double(count) / seconds_since(begun);
}

int path() {
  bool good = true;
  for (const auto& [batch, count] : {std::pair(4, 2000), std::pair(1000, 100000)}) {
    double best_ours = 0, best_bare = 0;
    for (int i = 0; i < 3; ++i) {  // in turn, so that a busy machine is busy for both
      const auto folder = new_folder();
      best_bare = std::max(best_bare, bare(folder, std::size_t(count), batch));
      best_ours = std::max(best_ours, ours(folder, lines(count), batch));
      std::filesystem::remove_all(folder);
    }
    good = good && best_ours / best_bare >= 0.6;
    fmt::print("{} a commit: ours {:.0f}/s, bare SQLite {:.0f}/s, ratio {:.2f}\n", batch, best_ours,
               best_bare, best_ours / best_bare);
  }
  return good ? 0 : 1;
}

void write_days(const std::string& file, int days) {
  daemon::ChamberLog log(file, false);
  for (const auto& probe : kProbes) log.add_probe(probe, "chamber");
  std::vector<sensors::Reading> batch;
  for (auto later = 0s; later < 24h * days; later += 10s) {
    const double hours = double(later.count()) / 3600;
    for (const auto& probe : kProbes) {
      batch.push_back({probe, kStart + later, sensors::Celsius::degc(24 + 3 * std::sin(hours)),
                       sensors::RelativeHumidity::pct(92 + 5 * std::cos(hours))});
    }
    if (batch.size() < 20000) continue;
    log.write(batch, {});
    batch.clear();
  }
  log.write(batch, {});
}

int chart(int days) {
  const auto folder = new_folder();
  const auto file = folder + "/chamber.db";
  const auto begun = Clock::now();
  write_days(file, days);
  const double readings = 4.0 * 8640 * days;
  fmt::print("{:.1f} million readings in {:.0f} s; {:.1f} bytes each with everything\n",
             readings / 1e6, seconds_since(begun),
             double(std::filesystem::file_size(file)) / readings);
  const auto reader = daemon::open_log_reader(file);
  double worst = 0;
  for (const auto span : {1h, 6h, 24h, 33h, 24h * 7, 24h * 30, 24h * 120, 24h * days}) {
    for (const int points : {300, 1000, 2000}) {
      const auto end = kStart + 24h * days - 1h * (span < 24h * days);
      double took = 1e9;  // the least of three: what else the machine does is not ours
      for (int i = 0; i < 3; ++i) {
        const auto asked = Clock::now();
        const auto found = reader->buckets({kProbes, end - span, end, points});
        took = std::min(took, seconds_since(asked) * 1000);
        if (found.size() != 4) std::abort();
      }
      worst = std::max(worst, took);
      fmt::print("{:5} h in {:4} points: {:6.1f} ms\n", span / 1h, points, took);
    }
  }
  std::filesystem::remove_all(folder);
  fmt::print("slowest {:.1f} ms\n", worst);
  return worst < 50 ? 0 : 1;
}

}  // namespace

int main(int count, char** arguments) {
  const std::string what = count > 1 ? arguments[1] : "";
  if (what == "path") return path();
  if (what == "chart") return chart(count > 2 ? std::max(1, std::atoi(arguments[2])) : 365);
  fmt::print(stderr, "usage: bench_log_speed path | chart [DAYS]\n");
  return 2;
}
