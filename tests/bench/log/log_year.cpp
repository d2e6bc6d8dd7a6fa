// A year of four probes at 10 s, 12.6 million readings: how large it is, and how long charts of any
// span take. usage: bench_log_year FILE [DAYS]; FILE is made if it is not there (minutes).

#include <fmt/format.h>

#include <chrono>
#include <cmath>
#include <cstdlib>
#include <filesystem>

#include "daemon/log/chamber_log.hpp"
#include "daemon/log/log_reader.hpp"

namespace {

using namespace takehold;
using namespace std::chrono_literals;
using Clock = std::chrono::steady_clock;

const sensors::Instant kStart = sensors::parse_instant("2026-04-12T00:00:00Z").value();
const std::vector<std::string> kProbes{"first", "second", "third", "fourth"};

void make(const std::string& file, int days) {
  daemon::ChamberLog log(file, false);
  for (const auto& probe : kProbes) log.add_probe(probe, "chamber");
  std::vector<sensors::Reading> batch;
  for (auto at = 0s; at < days * 24h; at += 10s) {
    const double hours = double(at.count()) / 3600;
    for (std::size_t i = 0; i < kProbes.size(); ++i) {
      batch.push_back({kProbes[i], kStart + at,
                       sensors::Celsius::degc(24 + 3 * std::sin(hours * 6.2 + double(i))),
                       sensors::RelativeHumidity::pct(95 + 3 * std::cos(hours * 5))});
    }
    if (batch.size() < 20000) continue;
    log.write(batch, {});
    batch.clear();
  }
  log.write(batch, {});
}

}  // namespace

int main(int count, char** words) {
  if (count < 2) return 2;
  const std::string file = words[1];
  const int days = count > 2 ? std::atoi(words[2]) : 365;
  if (!std::filesystem::exists(file)) make(file, days);
  const double readings = double(days) * 8640 * 4;
  fmt::print("{:.1f} million readings, {:.1f} bytes each with all rollups\n", readings / 1e6,
             double(std::filesystem::file_size(file)) / readings);
  const auto reader = daemon::open_log_reader(file);
  const auto end = kStart + days * 24h;
  double slowest = 0;
  for (const int points : {500, 2000}) {
    for (auto span = std::chrono::minutes(10); span <= days * 24h; span = span * 3 / 2) {
      const auto begin = Clock::now();
      const auto chart = reader->buckets({kProbes, end - span, end, points});
      const double ms = std::chrono::duration<double, std::milli>(Clock::now() - begin).count();
      if (ms > slowest) {
        slowest = ms;
        fmt::print("  {:6.1f} ms: {} points over {:.2f} days\n", ms, points,
                   double(span.count()) / 1440);
      }
    }
  }
  fmt::print("slowest chart of four probes {:.1f} ms (asked: under 50)\n", slowest);
  return 0;
}
