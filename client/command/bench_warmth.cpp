#include "client/command/bench_warmth.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "client/command/daemon_line.hpp"
#include "client/command/lot_seen.hpp"
#include "client/season/place.hpp"
#include "daemon/api/status_message.hpp"

namespace takehold::client {
namespace {

using sensors::Instant;
using std::chrono::hours;

constexpr hours kLateReadings{24};

std::int64_t hour_of(Instant at) {
  return std::chrono::floor<hours>(at.time_since_epoch()).count();
}

Instant begin_of(std::int64_t hour) {
  return Instant(hours(hour));
}

/// The first hour that is worth asking for; nothing: nobody sowed anything of late.
std::optional<std::int64_t> first_hour(const Book& book, const std::string& bench, Instant now) {
  std::optional<Instant> oldest;
  for (const Sowing& sowing : book.all<Sowing>()) {
    if (sowing.at > now || sowing.at < now - kSeedlingLife) continue;
    oldest = oldest ? std::min(*oldest, sowing.at) : sowing.at;
  }
  if (!oldest) return std::nullopt;
  const auto kept = book.hours_of(bench);
  const auto from = hour_of(*oldest);
  return kept.empty() ? from : std::max(from, kept.rbegin()->first - kLateReadings.count());
}

struct Sum {
  double degc = 0;
  int probes = 0;
};

/// Adds a probe's hourly means of [from, to).
sensors::Result<bool> add_hours(const Link& link, const std::string& probe, std::int64_t from,
                                std::int64_t to, std::map<std::int64_t, Sum>& sums) {
  for (std::int64_t at = from; at < to; at += daemon::kMostBuckets) {
    const std::int64_t end = std::min<std::int64_t>(to, at + daemon::kMostBuckets);
    const auto document =
        link.readings({probe, begin_of(at), begin_of(end), static_cast<int>(end - at)});
    if (!document) return document.error();
    const auto message = daemon::readings_message_from(*document);
    if (!message) return message.error();
    for (const auto& of_probe : message->probes) {
      if (of_probe.probe != probe) continue;
      for (const auto& bucket : of_probe.buckets) {
        if (!bucket.temperature) continue;
        Sum& sum = sums[hour_of(bucket.at)];
        sum.degc += bucket.temperature->mean.degc();
        ++sum.probes;
      }
    }
  }
  return true;
}

/// Fetches one bench, whose probes are known.
sensors::Result<bool> fetch_bench(Book& book, const Link& link, Instant now, BenchFetched& bench) {
  const auto from = first_hour(book, bench.bench, now);
  const std::int64_t to = hour_of(now);
  if (!from || *from >= to) return true;
  std::map<std::int64_t, Sum> sums;
  for (const std::string& probe : bench.probes) {
    const auto added = add_hours(link, probe, *from, to, sums);
    if (!added) return added.error();
  }
  BenchHours means;
  for (const auto& [hour, sum] : sums) {
    means.emplace(hour, sensors::Celsius::degc(sum.degc / sum.probes));
  }
  book.keep_hours(bench.bench, means);
  bench.hours = static_cast<int>(means.size());
  return true;
}

}  // namespace

sensors::Result<std::vector<BenchFetched>> fetch_bench_hours(Book& book, const Link& link,
                                                             Instant now) {
  std::vector<BenchFetched> fetched;
  const auto benches = book.all<Bench>();
  if (benches.empty()) return fetched;
  const auto document = link.status();
  if (!document) return document.error();
  const auto status = daemon::status_message_from(*document);
  if (!status) return status.error();
  for (const Bench& bench : benches) {
    BenchFetched one{bench.name, {}, 0};
    for (const auto& probe : status->probes) {
      if (probe.place == bench.name) one.probes.push_back(probe.name);
    }
    if (one.probes.empty()) continue;
    const auto done = fetch_bench(book, link, now, one);
    if (!done) return done.error();
    fetched.push_back(std::move(one));
  }
  return fetched;
}

void fetch_bench_hours(Context& context, Book& book) {
  const auto benches = book.all<Bench>();
  const auto fetched = fetch_bench_hours(book, daemon_link(context), context.now);
  if (fetched) return;
  const bool had_probe = std::any_of(benches.begin(), benches.end(), [&](const Bench& bench) {
    return !book.hours_of(bench.name).empty();
  });
  if (!had_probe) return;
  context.out.note({"bench-not-asked", "",
                    "what the benches' probes logged since the last time is not known: " +
                        fetched.error().sentence()});
}

void WarmthKnown::add(const LivedWarmth& lived) {
  past_hours += lived.past_hours;
  logged_hours += lived.logged_hours;
  missing_hours += lived.missing_hours;
}

void note_warmth(const WarmthKnown& warmth, Context& context) {
  if (warmth.logged_hours == 0) {
    return context.out.note(
        {"warmth-of-sheet", "", "the benches' temperatures are the sheet's: no probe logged them"});
  }
  if (warmth.missing_hours == 0) return;
  context.out.note(
      {"warmth-gap", "",
       fmt::format("{} of {} past hours are not in the benches' log; the sheet's temperature "
                   "stands in for them",
                   warmth.missing_hours, warmth.past_hours)});
}

}  // namespace takehold::client
