// How long a season plan takes, as ratios: 25 pairings against the two seconds they may take, and
// one candidate against the same in NumPy. Processor time, so that a busy machine counts little.
#include <fmt/format.h>
#include <sys/resource.h>

#include <cstdio>
#include <ctime>

#include "client/plan/pair_seasons.hpp"
#include "client/plan/season_planner.hpp"
#include "embedded/places.hpp"

namespace takehold::client {
namespace {

constexpr int kPairings = 25;
constexpr double kSecondsOnTwoCores = 2;

double processor_seconds() {
  return static_cast<double>(std::clock()) / CLOCKS_PER_SEC;
}

PlanRequest garden() {
  PlanRequest request;
  request.made_on = sensors::make_day(2027, 1, 10);
  request.season.ready_on = sensors::make_day(2027, 5, 15);
  request.benches = {Bench{"warm bench"}};
  for (int i = 0; i < kPairings; ++i) {
    const std::string scion = fmt::format("Scion {}", i), rootstock = fmt::format("Root {}", i / 5);
    Variety variety;
    variety.name = scion;
    request.varieties.push_back(variety);
    request.lots.push_back({fmt::format("S{}", i), scion, 2027, 500});
    if (i % 5 == 0) {
      variety.name = rootstock;
      variety.species = Species::interspecific;
      request.varieties.push_back(variety);
      request.lots.push_back({fmt::format("R{}", i / 5), rootstock, 2027, 2000});
    }
    Pairing pairing;
    pairing.id = fmt::format("P{}", i + 1);
    pairing.scion = scion;
    pairing.rootstock = rootstock;
    pairing.want = 2 + i % 5;  // a garden's: 2 to 6 of each
    request.pairings.push_back(pairing);
  }
  return request;
}

void time_plan(bool separate) {
  PlanRequest request = garden();
  request.separate = separate;
  const double began = processor_seconds();
  const SeasonPlan plan = plan_season(request, {.threads = 2});
  const double took = processor_seconds() - began;
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  fmt::print(
      "{} pairings x {} seasons, {}: {:.2f} s of processor = {:.2f} x of two cores' {} s; "
      "{:.0f} MiB\n",
      plan.pairings.size(), plan.seasons, separate ? "each apart" : "sharing stems", took,
      took / (2 * kSecondsOnTwoCores), kSecondsOnTwoCores,
      static_cast<double>(usage.ru_maxrss) / 1024);
}

PlannedPart part(const Course& course, std::uint64_t key, Species species, int days) {
  PlannedPart part;
  part.lot = {key, species, {17, 3}};
  part.course = &course;
  part.days_to_graft = days;
  return part;
}

struct NumpySeconds {
  double with_draws = 0, given_draws = 0;
};

NumpySeconds numpy_seconds(const char* python) {
  const std::string command =
      fmt::format("{} {}", python, TAKEHOLD_SOURCE_DIR "/tests/bench/plan_candidate.py");
  FILE* pipe = ::popen(command.c_str(), "r");
  NumpySeconds seconds;
  if (pipe == nullptr ||
      std::fscanf(pipe, "%lf %lf", &seconds.with_draws, &seconds.given_draws) != 2) {
    seconds = {};
  }
  if (pipe != nullptr) ::pclose(pipe);
  return seconds;
}

// Like with like: with the seeds drawn, grown and matched, over the candidates asked about; and one
// candidate by itself when they are there.
void time_candidate() {
  const Course course(hourly_from_noon({sensors::Celsius::degc(20), sensors::Celsius::degc(20), 14},
                                       std::chrono::days(120)));
  const MatchCounter counter(Tolerance::percent_of_mean(10), 2600);
  const double began = processor_seconds();
  DrawStore store(1, 4096);
  PairSeasons seasons({{part(course, 1, Species::interspecific, 27)}, false},
                      {{part(course, 2, Species::lycopersicum, 24)}, false}, {-2, -1, 0, 1, 2},
                      counter, store);
  seasons.match_within({{18, 16}, {30, 28}});
  const double matched = processor_seconds();
  int candidates = 0;
  for (int r = 19; r <= 29; ++r) {
    for (int s = 17; s <= 27; ++s, ++candidates) seasons.spread({r, s});
  }
  const double ended = processor_seconds();
  const double one_more = (ended - matched) / candidates;
  const double each = (ended - began) / candidates;
  const NumpySeconds numpy = numpy_seconds("/usr/bin/python3");
  fmt::print(
      "drawing, growing and matching 30 + 28 seeds: {:.1f} ms; a candidate of about 24 + 22 more: "
      "{:.3f} ms\n"
      "a candidate, drawn anew by NumPy {:.0f} ms, here its part of the {} asked: {:.2f} ms = "
      "{:.0f} x\n"
      "a candidate of stems that are there, NumPy {:.0f} ms = {:.0f} x\n",
      1000 * (matched - began), 1000 * one_more, 1000 * numpy.with_draws, candidates, 1000 * each,
      numpy.with_draws / each, 1000 * numpy.given_draws, numpy.given_draws / one_more);
}

}  // namespace
}  // namespace takehold::client

// With a word, only that: candidate, apart or shared.
int main(int count, char** words) {
  const std::string_view only = count > 1 ? words[1] : "";
  if (only.empty() || only == "candidate") takehold::client::time_candidate();
  if (only.empty() || only == "apart") takehold::client::time_plan(true);
  if (only.empty() || only == "shared") takehold::client::time_plan(false);
}
