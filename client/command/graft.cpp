#include "client/command/graft.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "client/command/batch_view.hpp"
#include "client/command/standing.hpp"
#include "daemon/healing/regime_json.hpp"
#include "daemon/healing/regime_toml.hpp"

namespace takehold::client {

namespace {

/// One half of all grafts of a session.
struct HalfOrder {
  const char* option;  ///< "--rootstock-from"
  const char* word;    ///< "rootstock"
  std::string variety;
  std::vector<std::string> from;       ///< sowings as typed
  std::vector<std::string> seedlings;  ///< named ones
};

std::string ids_text(const std::vector<Sowing>& sowings) {
  std::string text;
  for (const Sowing& sowing : sowings) text += (text.empty() ? "" : ", ") + sowing.id;
  return text;
}

Sowing checked_sowing(const Book& book, const HalfOrder& half, const std::string& typed_sowing) {
  const Sowing sowing = find_numbered<Sowing>(book, typed_sowing);
  const std::string variety = state_of(book, sowing).variety;
  if (variety == half.variety) return sowing;
  refuse("wrong-variety",
         fmt::format("{} is {}, the {} is {}", sowing.id, variety, half.word, half.variety),
         half.option);
}

std::vector<Sowing> sowings_of(const Book& book, const HalfOrder& half) {
  std::set<std::string> named(half.from.begin(), half.from.end());
  for (const auto& seedling : half.seedlings) named.insert(sowing_of_seedling(seedling));
  std::vector<Sowing> sowings;
  for (const auto& name : named) sowings.push_back(checked_sowing(book, half, name));
  if (!sowings.empty()) return sowings;
  sowings = eligible_sowings(book, half.variety);
  if (sowings.empty()) {
    refuse("no-seedlings", fmt::format("no seedlings of {} stand", half.variety), half.word);
  }
  if (sowings.size() > 1) {
    refuse("which-sowing",
           fmt::format("seedlings of {} come from {}", half.variety, ids_text(sowings)),
           half.option, fmt::format("say which: {} {}", half.option, sowings.front().id));
  }
  return sowings;
}

void check_enough(const Book& book, const std::vector<Sowing>& sowings, int wanted,
                  const HalfOrder& half) {
  int standing = 0;
  for (const Sowing& sowing : sowings) {
    standing += state_of(book, sowing).standing.value_or(sowing.seeds);
  }
  if (wanted <= standing) return;
  refuse("more-than-stand",
         fmt::format("{} grafts, but {} seedlings of {} stand", wanted, standing, half.variety),
         half.word, "count them again with takehold emerged");
}

void check_seedlings(const Book& book, const HalfOrder& half) {
  std::set<std::string> seen;
  for (const auto& seedling : half.seedlings) {
    if (!seen.insert(seedling).second) refuse("twice", "this seedling is grafted twice", seedling);
    const auto sowing = find_numbered<Sowing>(book, sowing_of_seedling(seedling));
    const int number = std::stoi(seedling.substr(seedling.find('-') + 1));
    if (number < 1 || number > sowing.seeds) {
      refuse("no-such-seedling", fmt::format("{} has {} seeds", sowing.id, sowing.seeds), seedling);
    }
  }
}

std::vector<std::string> ids_of(const std::vector<Sowing>& sowings) {
  std::vector<std::string> ids;
  for (const Sowing& sowing : sowings) ids.push_back(sowing.id);
  return ids;
}

/// Checks one half and gives the sowings it is taken from.
std::vector<std::string> take_half(const Book& book, const HalfOrder& half, int wanted) {
  check_seedlings(book, half);
  const auto sowings = sowings_of(book, half);
  check_enough(book, sowings, wanted, half);
  return ids_of(sowings);
}

std::vector<Graft> grafts_of(const GraftOrder& order, int count) {
  std::vector<Graft> grafts;
  for (int number = 1; number <= count; ++number) {
    Graft graft;
    graft.number = graft.place = number;
    if (!order.pairs.empty()) {
      const SeedlingPair& pair = order.pairs[static_cast<std::size_t>(number - 1)];
      graft.rootstock = pair.rootstock;
      graft.scion = pair.scion;
      graft.rootstock_diameter = pair.rootstock_diameter;
      graft.scion_diameter = pair.scion_diameter;
    }
    grafts.push_back(graft);
  }
  return grafts;
}

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
  return *std::move(regime);
}

Batch batch_of(const Telling& telling, const GraftOrder& order, const Pairing& pairing) {
  const int count = checked_count(order);
  HalfOrder below{"--rootstock-from", "rootstock", pairing.rootstock, order.rootstock_from, {}};
  HalfOrder above{"--scion-from", "scion", pairing.scion, order.scion_from, {}};
  for (const SeedlingPair& pair : order.pairs) {
    below.seedlings.push_back(pair.rootstock);
    above.seedlings.push_back(pair.scion);
  }
  const daemon::Regime regime = regime_for(telling.book, order);
  Batch batch;
  batch.pairing = pairing.id;
  batch.scion = pairing.scion;
  batch.rootstock = pairing.rootstock;
  batch.at = telling.at;
  batch.method = order.method.value_or(pairing.method);
  batch.by = order.by;
  batch.rootstock_sowings = take_half(telling.book, below, count);
  batch.scion_sowings = take_half(telling.book, above, count);
  batch.grafts = grafts_of(order, count);
  batch.regime = regime.name;
  batch.regime_plan = nlohmann::json(regime).dump();
  batch.note = telling.note;
  return batch;
}

}  // namespace

std::vector<Sowing> eligible_sowings(const Book& book, const std::string& variety) {
  std::vector<Sowing> eligible;
  for (const Sowing& sowing : book.all<Sowing>()) {
    const auto state = state_of(book, sowing);
    const bool own_root = sowing.side == Side::own_root;
    if (state.variety == variety && !own_root && state.standing != 0) eligible.push_back(sowing);
  }
  return eligible;
}

Batch graft(const Telling& telling, const GraftOrder& order) {
  const Pairing pairing = find_pairing(telling.book, order.pairing);
  Batch batch = batch_of(telling, order, pairing);
  telling.book.record(fmt::format("graft {} --count {}", pairing.id, batch.count()), telling.now,
                      [&](Recorder& r) {
                        batch.id = r.next_number(Kind::batch);
                        r.put(batch);
                      });
  return batch;
}

}  // namespace takehold::client
