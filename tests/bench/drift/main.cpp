// How good is the watch? Chambers it has never seen, in three bands, scored and printed.
//
//   bench_drift [TRIALS-A-KIND] [SEED] [--remarks]      prints the table
//   bench_drift --trace SEED MAKER BAND FAILURE         one trial as a table of readings
//   bench_drift --draw SEED MAKER BAND FAILURE          the same as a picture, SVG
//   bench_drift --peek SEED MAKER BAND FAILURE          what the watch thinks of it, minute by
//   minute
#include <cstdlib>
#include <cstring>
#include <iostream>
#include <map>

#include <fmt/format.h>

#include "draw.hpp"
#include "score.hpp"

namespace {

using namespace takehold::bench;

constexpr Asked kBands[] = {
    {"90-100", {22, 29}, {90, 100}, {94, 97}, {0.4, 2}},
    {"95-100", {22, 29}, {95, 100}, {97, 98}, {0.3, 1.2}},
    {"venting", {21, 28}, {70, 85}, {75, 80}, {0.5, 2.5}},
};
constexpr Maker kMakers[] = {Maker::one_pot, Maker::two_layers, Maker::saw_teeth};
constexpr int kFailures = int(Failure::disagrees) + 1;

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

int trace(char** words) {
  const auto seed = std::strtoull(words[0], nullptr, 10);
  const auto trial = make_trial(seed, Maker(std::atoi(words[1])), kBands[std::atoi(words[2])],
                                Failure(std::atoi(words[3])));
  fmt::print("# {} {} {}: onset {} departure {} breach {}\n", to_string(trial.maker),
             trial.asked.name, to_string(trial.failure), trial.onset, trial.departure,
             trial.breach);
  for (const auto& o : trial.openings) fmt::print("# opened {} to {}\n", o.from, o.to);
  for (const auto& o : trial.sprays) fmt::print("# sprayed {} to {}\n", o.from, o.to);
  fmt::print("at,probe,temperature_degc,humidity_pct\n");
  for (const auto& round : trial.rounds) {
    const auto clock = fmt::format("2027-04-12T{:02}:{:02}:{:02}Z", round.second / 3600,
                                   round.second / 60 % 60, round.second % 60);
    for (int i = 0; i < 2; ++i) {
      if (!round.spoke[i]) continue;
      fmt::print("{},{},{:.2f},{:.2f}\n", clock, i == 0 ? "left" : "right", round.said[i].degc,
                 round.said[i].pct);
    }
  }
  return 0;
}

void print_thought(int second, const takehold::daemon::Watch& watch) {
  using takehold::daemon::AirQuantity;
  fmt::print("{:6}", second);
  for (const auto quantity :
       {AirQuantity::temperature, AirQuantity::humidity, AirQuantity::vapour}) {
    const auto& motion = watch.trends().motion(quantity);
    const auto& usual = watch.trends().usual(quantity);
    if (!motion) continue;
    fmt::print(" | {:7.2f} {:+7.4f}/min usual {:.2f}..{:.2f} ({:.2f} {:.2f}) {:+.4f} {:+.4f}",
               motion->level, 60 * motion->slope, usual.below(), usual.above(), usual.low(),
               usual.high(), 60 * usual.fall(), 60 * usual.rise());
    for (const bool below : {true, false}) {
      const auto pace = watch.trends().path(quantity).pace(below, motion->noise);
      if (pace) fmt::print(" {} {:.4f}/{:.0f}", below ? "v" : "^", 60 * pace->speed, pace->fades_s);
    }
  }
  fmt::print("{}\n", is_hasty(watch.trends()) ? " hasty" : "");
}

int draw(char** words) {
  const auto seed = std::strtoull(words[0], nullptr, 10);
  const auto trial = make_trial(seed, Maker(std::atoi(words[1])), kBands[std::atoi(words[2])],
                                Failure(std::atoi(words[3])));
  takehold::bench::draw(trial, watch(trial), std::cout);
  return 0;
}

int peek(char** words) {
  const auto seed = std::strtoull(words[0], nullptr, 10);
  const auto trial = make_trial(seed, Maker(std::atoi(words[1])), kBands[std::atoi(words[2])],
                                Failure(std::atoi(words[3])));
  fmt::print("onset {} departure {} breach {}\n", trial.onset, trial.departure, trial.breach);
  const auto said = watch(trial, [](int second, const takehold::daemon::Watch& watch) {
    if (second % 60 == 0) print_thought(second, watch);
  });
  for (const auto& one : said) fmt::print("{} {}\n", one.second, one.event.text);
  for (const auto& o : trial.openings) fmt::print("opened {} to {}\n", o.from, o.to);
  for (const auto& o : trial.sprays) fmt::print("sprayed {} to {}\n", o.from, o.to);
  return 0;
}

}  // namespace

int main(int count, char** words) {
  if (count == 6 && std::strcmp(words[1], "--trace") == 0) return trace(words + 2);
  if (count == 6 && std::strcmp(words[1], "--draw") == 0) return draw(words + 2);
  if (count == 6 && std::strcmp(words[1], "--peek") == 0) return peek(words + 2);
  const bool telling = count > 1 && std::strcmp(words[count - 1], "--remarks") == 0;
  if (telling) --count;
  const int each = count > 1 ? std::atoi(words[1]) : 3;
  const std::uint64_t seed = count > 2 ? std::strtoull(words[2], nullptr, 10) : 1;
  std::map<std::string, Tally> by_band, by_maker, by_failure;
  Tally all;
  std::vector<std::string> remarks;
  for (const Asked& asked : kBands) {
    for (const Maker maker : kMakers) {
      for (int kind = 0; kind < kFailures; ++kind) {
        const auto failure = Failure(kind);
        const int trials = failure == Failure::none ? 4 * each : each;
        for (int i = 0; i < trials; ++i) {
          const auto key = takehold::sensors::mixed(seed, std::uint64_t(maker) * 100 + kind,
                                                    std::uint64_t(i) * 10 + (&asked - kBands));
          const auto trial = make_trial(key, maker, asked, failure);
          const auto before = remarks.size();
          const auto tally = score(trial, watch(trial), remarks);
          for (auto k = before; k < remarks.size(); ++k) {
            remarks[k] +=
                fmt::format("\n   [--trace {} {} {} {}]", key, int(maker), &asked - kBands, kind);
          }
          by_band[asked.name].add(tally);
          by_maker[to_string(maker)].add(tally);
          by_failure[to_string(failure)].add(tally);
          all.add(tally);
        }
      }
    }
  }
  if (telling) {
    for (const auto& line : remarks) fmt::print("{}\n", line);
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
