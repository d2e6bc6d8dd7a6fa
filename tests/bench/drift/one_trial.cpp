#include "one_trial.hpp"

#include <fmt/format.h>

#include <cstdlib>
#include <iostream>

#include "bands.hpp"
#include "draw.hpp"
#include "score.hpp"

namespace takehold::bench {

namespace {

Trial asked_for(char** words) {
  return make_trial(std::strtoull(words[0], nullptr, 10), Maker(std::atoi(words[1])),
                    kBands[std::atoi(words[2])], Failure(std::atoi(words[3])));
}

void print_thought(int second, const daemon::Watch& watch) {
  using daemon::AirQuantity;
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
  fmt::print("{}\n", haste_of(watch.trends()) != daemon::Haste::none ? " hasty" : "");
}

}  // namespace

int print_trace(char** words) {
  const auto trial = asked_for(words);
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

int print_picture(char** words) {
  const auto trial = asked_for(words);
  bench::draw(trial, watch(trial), std::cout);
  return 0;
}

int print_thoughts(char** words) {
  const auto trial = asked_for(words);
  fmt::print("onset {} departure {} breach {}\n", trial.onset, trial.departure, trial.breach);
  const auto said = watch(trial, [](int second, const daemon::Watch& watch) {
    if (second % 60 == 0) print_thought(second, watch);
  });
  for (const auto& one : said) fmt::print("{} {}\n", one.second, one.event.text);
  for (const auto& o : trial.openings) fmt::print("opened {} to {}\n", o.from, o.to);
  for (const auto& o : trial.sprays) fmt::print("sprayed {} to {}\n", o.from, o.to);
  return 0;
}

}  // namespace takehold::bench
