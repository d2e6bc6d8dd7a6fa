#include "client/command/graft.hpp"

#include <fmt/format.h>

#include "client/command/batch_view.hpp"
#include "client/command/graft_halves.hpp"
#include "client/command/standing.hpp"
#include "daemon/healing/regime_json.hpp"
#include "daemon/healing/regime_toml.hpp"

namespace takehold::client {

namespace {

/// A stem is no longer what it was a day ago.
constexpr std::chrono::hours kNewEnough{24};

int checked_count(const GraftOrder& order) {
  const int named = static_cast<int>(order.pairs.size());
  const int count = order.count.value_or(named);
  if (count < 1) refuse("bad-count", "at least one graft makes a batch", "--count");
  if (named != 0 && named != count) {
    refuse("bad-count", fmt::format("{} pairs, but a count of {}", named, count), "--count");
  }
  return count;
}

daemon::Regime regime_for(const Book& book, const GraftOrder& order) {
  const auto season = book.find<Season>("season");
  const std::string name = order.regime.value_or(season ? season->regime : "steady");
  auto regime = daemon::find_regime(name, regime_folders());
  if (!regime) throw sensors::Refused(regime.error());
  if (regime->day && regime->time_zone.empty()) regime->time_zone = book.time_zone().name();
  return *std::move(regime);
}

/// Both halves, with the seedlings' names in full.
struct Halves {
  HalfOrder below, above;
};

Halves halves_of(const Book& book, const GraftOrder& order, const Pairing& pairing,
                 const std::optional<Batch>& failed) {
  Halves halves{{"--rootstock-from",
                 "rootstock",
                 pairing.rootstock,
                 failed ? failed->rootstock_sowings : order.rootstock_from,
                 {},
                 failed.has_value()},
                {"--scion-from", "scion", pairing.scion, order.scion_from, {}}};
  std::vector<std::string> below, above;
  for (const SeedlingPair& pair : order.pairs) {
    const std::string root = rootstock_again(book, failed, pair.rootstock);
    below.push_back(in_full(book, halves.below, root));
    above.push_back(in_full(book, halves.above, pair.scion));
  }
  halves.below.seedlings = std::move(below);
  halves.above.seedlings = std::move(above);
  return halves;
}

/// As measured within the day before the graft; nothing where it was not.
std::optional<Millimetres> measured_then(const Book& book, const std::string& seedling,
                                         Instant at) {
  const std::string sowing = sowing_of_seedling(seedling);
  std::optional<Millimetres> found;
  for (const Measurement& measured : book.all<Measurement>()) {
    if (measured.sowing != sowing || measured.at > at || measured.at < at - kNewEnough) continue;
    for (const Stem& stem : measured.stems) {
      if (fmt::format("{}-{}", sowing, stem.number) == seedling) found = stem.diameter;
    }
  }
  return found;
}

std::vector<Graft> grafts_of(const Telling& telling, const GraftOrder& order, const Halves& halves,
                             int count) {
  std::vector<Graft> grafts;
  for (int number = 1; number <= count; ++number) {
    Graft graft;
    graft.number = graft.place = number;
    if (!order.pairs.empty()) {
      const auto index = static_cast<std::size_t>(number - 1);
      const SeedlingPair& pair = order.pairs[index];
      const auto diameter = [&](const std::optional<Millimetres>& told, const std::string& name) {
        return told ? told : measured_then(telling.book, name, telling.at);
      };
      graft.rootstock = halves.below.seedlings[index];
      graft.scion = halves.above.seedlings[index];
      graft.rootstock_diameter = diameter(pair.rootstock_diameter, graft.rootstock);
      graft.scion_diameter = diameter(pair.scion_diameter, graft.scion);
    }
    grafts.push_back(graft);
  }
  return grafts;
}

void add_session(const Telling& telling, const GraftOrder& order, Batch& batch) {
  if (order.started_at && *order.started_at > telling.at) {
    refuse("ends-before-it-begins", "the session ends before it begins", "--started",
           "its end is --at");
  }
  batch.by = order.by;
  batch.started_at = order.started_at;
  batch.clip = order.clip;
  batch.cut_angle_deg = order.cut_angle_deg;
  batch.lamp_umol = order.lamp_umol;
  batch.humidity_pct = order.humidity_pct;
  batch.note = telling.note;
}

}  // namespace

Batch draft_graft(const Telling& telling, const GraftOrder& order) {
  const Book& book = telling.book;
  const Pairing pairing = find_pairing(book, order.pairing);
  const int count = checked_count(order);
  const auto failed = repaired_batch(book, order, pairing, count);
  const Halves halves = halves_of(book, order, pairing, failed);
  const daemon::Regime regime = regime_for(book, order);
  Batch batch;
  batch.pairing = pairing.id;
  batch.scion = pairing.scion;
  batch.rootstock = pairing.rootstock;
  batch.at = telling.at;
  batch.method = order.method.value_or(pairing.method);
  batch.rootstock_sowings = take_half(book, halves.below, count);
  batch.scion_sowings = take_half(book, halves.above, count);
  batch.grafts = grafts_of(telling, order, halves, count);
  batch.regime = regime.name;
  batch.regime_plan = nlohmann::json(regime).dump();
  if (failed) batch.repairs = failed->id;
  add_session(telling, order, batch);
  return batch;
}

Batch graft(const Telling& telling, const GraftOrder& order) {
  Batch batch = draft_graft(telling, order);
  telling.book.record(fmt::format("graft {} --count {}", batch.pairing, batch.count()), telling.now,
                      [&](Recorder& r) {
                        batch.id = r.next_number(Kind::batch);
                        r.put(batch);
                      });
  return batch;
}

}  // namespace takehold::client
