// How good is the watch? Chambers it has never seen, in three bands, scored and printed.
//
//   bench_drift [TRIALS-A-KIND] [SEED] [--remarks]      prints the table
//   bench_drift --trace SEED MAKER BAND FAILURE         one trial as a table of readings
//   bench_drift --draw SEED MAKER BAND FAILURE          the same as a picture, SVG
//   bench_drift --peek SEED MAKER BAND FAILURE          what the watch thinks of it, each minute
//
// Rules and limits are chosen by looking at seeds up to 99; the published table is of another.
#include <fmt/format.h>

#include <algorithm>
#include <atomic>
#include <cstdlib>
#include <cstring>
#include <map>
#include <thread>

#include "bands.hpp"
#include "one_trial.hpp"
#include "score.hpp"
#include "sensors/sim/dice.hpp"

namespace {

using namespace takehold::bench;

std::string share(int part, int whole) {
  return whole == 0 ? "-" : fmt::format("{}/{} {:.0f} %", part, whole, 100.0 * part / whole);
}

void print(const std::string& name, const Tally& t) {
  fmt::print("{:<18} {:>13} {:>13} {:>7.2f} {:>7.2f} {:>13} {:>7} {:>7.1f} {:>7.3f}\n", name,
             share(t.warned, t.failures), share(t.slow_before, t.slow), median(t.in_hand),
             median(t.breach_error), share(t.named, t.faults), t.falses, t.days, t.falses / t.days);
}

void head(const char* by) {
  fmt::print("\n{:<18} {:>13} {:>13} {:>7} {:>7} {:>13} {:>7} {:>7} {:>7}\n", by, "warned",
             "slow before", "in hand", "error", "faults named", "false", "days", "a day");
}

struct Job {
  std::uint64_t key;
  Maker maker;
  int band, failure;
  Tally tally{};
  std::vector<std::string> remarks{};
};

std::vector<Job> all_jobs(int each, std::uint64_t seed) {
  std::vector<Job> jobs;
  for (int band = 0; band < int(std::size(kBands)); ++band) {
    for (const Maker maker : kMakers) {
      for (int kind = 0; kind < kFailures; ++kind) {
        const int trials = Failure(kind) == Failure::none ? 4 * each : each;
        for (int i = 0; i < trials; ++i) {
          const auto key = takehold::sensors::mixed(seed, std::uint64_t(maker) * 100 + kind,
                                                    std::uint64_t(i) * 10 + band);
          jobs.push_back({key, maker, band, kind});
        }
      }
    }
  }
  return jobs;
}

void do_job(Job& job) {
  const auto trial = make_trial(job.key, job.maker, kBands[job.band], Failure(job.failure));
  job.tally = score(trial, watch(trial), job.remarks);
  for (auto& remark : job.remarks) {
    remark +=
        fmt::format("\n   [--trace {} {} {} {}]", job.key, int(job.maker), job.band, job.failure);
  }
}

/// Each job has its own chance, so the order they are done in does not matter.
void do_all(std::vector<Job>& jobs) {
  std::atomic<std::size_t> next{0};
  const auto work = [&] {
    for (auto i = next++; i < jobs.size(); i = next++) do_job(jobs[i]);
  };
  std::vector<std::thread> helpers;
  for (unsigned i = 1; i < std::thread::hardware_concurrency(); ++i) helpers.emplace_back(work);
  work();
  for (auto& helper : helpers) helper.join();
}

void print_tables(const std::vector<Job>& jobs) {
  std::map<std::string, Tally> by_band, by_maker, by_failure;
  Tally all;
  for (const Job& job : jobs) {
    by_band[kBands[job.band].name].add(job.tally);
    by_maker[to_string(job.maker)].add(job.tally);
    by_failure[to_string(Failure(job.failure))].add(job.tally);
    all.add(job.tally);
  }
  head("band");
  for (const auto& [name, tally] : by_band) print(name, tally);
  head("chamber");
  for (const auto& [name, tally] : by_maker) print(name, tally);
  head("failure");
  for (const auto& [name, tally] : by_failure) print(name, tally);
  head("");
  print("all", all);
}

}  // namespace

int main(int count, char** words) {
  const auto asks = [&](const char* word) { return count == 6 && !std::strcmp(words[1], word); };
  if (asks("--trace")) return print_trace(words + 2);
  if (asks("--draw")) return print_picture(words + 2);
  if (asks("--peek")) return print_thoughts(words + 2);
  const bool telling = count > 1 && std::strcmp(words[count - 1], "--remarks") == 0;
  if (telling) --count;
  auto jobs = all_jobs(count > 1 ? std::atoi(words[1]) : 2,
                       count > 2 ? std::strtoull(words[2], nullptr, 10) : 100);
  do_all(jobs);
  for (const Job& job : jobs) {
    for (const auto& line : job.remarks) {
      if (telling) fmt::print("{}\n", line);
    }
  }
  print_tables(jobs);
}
