#include "client/command/lot_seen.hpp"

#include <algorithm>
#include <charconv>
#include <map>

#include "client/command/lot_belief.hpp"
#include "client/command/recording.hpp"
#include "client/season/place.hpp"

namespace takehold::client {
namespace {

BenchCycle cycle_of(const Bench& bench) {
  return {bench.day, bench.night, bench.day_hours};
}

/// The bench of that name; the season's first where the name is empty or unknown.
std::optional<Bench> bench_named(const Book& book, const std::string& name) {
  std::optional<Bench> first;
  for (const Bench& bench : book.all<Bench>()) {
    if (bench.name == name) return bench;
    if (!first || bench.position < first->position) first = bench;
  }
  return first;
}

/// As the book described it while seedlings of that age could still stand there: next season's
/// sheet may describe it otherwise.
Bench as_it_was(const Book& book, const Bench& now, sensors::Instant from) {
  std::optional<Bench> then;
  for (const auto& version : book.history<Bench>(now.name)) {
    const bool in_time = version.entered_at <= from + kSeedlingLife;
    if (!version.gone && (in_time || !then)) then = version.noun;
  }
  return then.value_or(now);
}

Stay stay_at(const Book& book, sensors::Instant from, const std::string& name) {
  const auto bench = bench_named(book, name);
  if (!bench) return {from, {}, {}};
  return {from, cycle_of(as_it_was(book, *bench, from)), book.hours_of(bench->name)};
}

Age age_at(const Sowing& sowing, sensors::Instant at) {
  return std::max(Age(0), std::chrono::duration_cast<Age>(at - sowing.at));
}

/// Plants that had come up by each count: those that left before it among them.
std::vector<CountSeen> counts_seen(const Book& book, const Sowing& sowing, sensors::Instant now) {
  std::vector<CountSeen> seen;
  for (const CountedUp& count : counts_of(book, sowing)) {
    if (count.at > now) break;
    const int before = seen.empty() ? 0 : seen.back().up;
    const int up = std::clamp(count.up, before, sowing.seeds);
    const Age age = age_at(sowing, count.at);
    if (!seen.empty() && seen.back().at == age) {
      seen.back().up = up;
    } else {
      seen.push_back({age, up});
    }
  }
  return seen;
}

std::vector<SeedlingSeen> seedlings_seen(const Book& book, const Sowing& sowing,
                                         sensors::Instant now) {
  std::map<int, SeedlingSeen> seen;
  for (const Measurement& measured : book.all<Measurement>()) {
    if (measured.sowing != sowing.id || measured.at > now) continue;
    for (const Stem& stem : measured.stems) {
      seen[stem.number].number = stem.number;
      seen[stem.number].readings.push_back({age_at(sowing, measured.at), stem.diameter});
    }
  }
  std::vector<SeedlingSeen> seedlings;
  for (auto& [number, seedling] : seen) {
    std::stable_sort(seedling.readings.begin(), seedling.readings.end(),
                     [](const StemSeen& a, const StemSeen& b) { return a.at < b.at; });
    seedlings.push_back(std::move(seedling));
  }
  return seedlings;
}

/// Adds 5 of "S12-5" where the sowing is S12.
void add_number(const std::string& seedling, const std::string& sowing, std::vector<int>& into) {
  if (sowing_of_seedling(seedling) != sowing || seedling.size() <= sowing.size()) return;
  int number = 0;
  const char* const begin = seedling.data() + sowing.size() + 1;
  std::from_chars(begin, seedling.data() + seedling.size(), number);
  if (number > 0) into.push_back(number);
}

}  // namespace

BenchCycle first_bench(const Book& book) {
  const auto first = bench_named(book, "");
  return first ? cycle_of(*first) : BenchCycle{};
}

LivedWarmth warmth_of(const Book& book, const Sowing& sowing, sensors::Instant now) {
  std::vector<Stay> stays{stay_at(book, sowing.at, sowing.bench)};
  std::vector<Move> moves = book.all<Move>();
  std::stable_sort(moves.begin(), moves.end(),
                   [](const Move& a, const Move& b) { return a.at < b.at; });
  for (const Move& move : moves) {
    if (move.subject != sowing.id || move.to == kChamber || move.at > now) continue;
    stays.push_back(stay_at(book, move.at, move.to));
  }
  return lived_warmth(stays, sowing.at, now, kSeedlingLife, book.time_zone());
}

SowingSeen sowing_seen(const Book& book, const Sowing& sowing, const LivedWarmth& warmth,
                       sensors::Instant now) {
  SowingSeen seen;
  seen.course = std::make_shared<Course>(warmth.hourly);
  seen.seeds = sowing.seeds;
  seen.counts = counts_seen(book, sowing, now);
  seen.seedlings = seedlings_seen(book, sowing, now);
  return seen;
}

LotSeen lot_seen(const Book& book, const Lot& lot, sensors::Instant now) {
  const auto variety = book.find<Variety>(lot.variety);
  if (!variety) refuse("not-there", "its variety is not in the book", lot.label);
  LotSeen seen{variety->species, viability_chance(book, lot, now), {}};
  for (const Sowing& sowing : book.all<Sowing>()) {
    if (sowing.lot != lot.label || sowing.at > now || sowing.at < now - kSeedlingLife) continue;
    seen.sowings.push_back(sowing_seen(book, sowing, warmth_of(book, sowing, now), now));
  }
  return seen;
}

TrayState tray_state(const Book& book, const SowingState& state) {
  TrayState tray{state.standing, {}};
  for (const Batch& batch : book.all<Batch>()) {
    for (const Graft& graft : batch.grafts) {
      add_number(graft.rootstock, state.sowing.id, tray.gone);
      add_number(graft.scion, state.sowing.id, tray.gone);
    }
  }
  const auto add_plants = [&](const auto& record) {
    if (record.subject != state.sowing.id) return;
    tray.gone.insert(tray.gone.end(), record.plants.begin(), record.plants.end());
  };
  for (const Loss& loss : book.all<Loss>()) add_plants(loss);
  for (const Cull& cull : book.all<Cull>()) add_plants(cull);
  return tray;
}

}  // namespace takehold::client
