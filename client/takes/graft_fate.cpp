#include "client/takes/graft_fate.hpp"

#include <algorithm>
#include <array>
#include <chrono>
#include <cstdlib>
#include <map>
#include <utility>

namespace takehold::client {
namespace {

constexpr std::array<std::string_view, 12> kMonths{"January",   "February", "March",    "April",
                                                   "May",       "June",     "July",     "August",
                                                   "September", "October",  "November", "December"};
constexpr const char* kNotTold = "not told apart";
constexpr const char* kNotNoted = "not noted";

std::optional<Millimetres> mismatch_of(const Graft& graft) {
  if (!graft.rootstock_diameter || !graft.scion_diameter) return std::nullopt;
  return Millimetres::um(std::abs(graft.rootstock_diameter->um() - graft.scion_diameter->um()));
}

// Marks the numbered plants of `record`; returns how many of it had no number.
template <class Record>
int mark(BatchFate& batch, const Record& record, Fate fate) {
  for (const int number : record.plants) {
    const auto graft = std::find_if(batch.grafts.begin(), batch.grafts.end(),
                                    [&](const GraftFate& g) { return g.number == number; });
    if (graft != batch.grafts.end()) graft->fate = fate;
  }
  return record.count - static_cast<int>(record.plants.size());
}

// The grafts not yet marked: all taken, all lost, or not told apart.
void settle_rest(BatchFate& batch, int unnamed_lost, int unnamed_out) {
  if (!batch.scored || unnamed_out > 0) return;
  std::optional<Fate> rest;
  if (unnamed_lost == 0) rest = Fate::taken;
  if (unnamed_lost > 0 && batch.taken == 0) rest = Fate::lost;
  if (!rest) return;
  for (GraftFate& graft : batch.grafts) {
    if (!graft.fate) graft.fate = rest;
  }
}

// What a group sorts by, then its name.
using GroupKey = std::pair<int, std::string>;

class Gathering {
 public:
  explicit Gathering(GroupBy by) : by_(by) {}

  void add(const BatchFate& batch) {
    if (by_ == GroupBy::mismatch) {
      if (batch.scored) add_by_mismatch(batch);
    } else if (batch.scored || by_ == GroupBy::pairing) {
      Tally& tally = tally_of(key_of(batch));
      if (batch.scored) count(tally, batch.taken, batch.judged());
    }
  }

  std::vector<PairingTally> tallies() const {
    std::vector<PairingTally> list;
    for (const auto& [key, tally] : groups_) list.push_back({key.second, tally});
    return list;
  }

 private:
  static void count(Tally& tally, int yes, int tried) {
    tally.yes += yes;
    tally.tried += tried;
  }

  GroupKey key_of(const BatchFate& batch) {
    switch (by_) {
      case GroupBy::rootstock:
        return named(batch.rootstock);
      case GroupBy::scion:
        return named(batch.scion);
      case GroupBy::method:
        return {static_cast<int>(batch.method), std::string(to_text(batch.method))};
      case GroupBy::grafter:
        return named(batch.by.empty() ? kNotNoted : batch.by);
      case GroupBy::regime:
        return named(batch.regime);
      case GroupBy::month: {
        const auto month =
            static_cast<unsigned>(std::chrono::year_month_day(batch.grafted_on).month());
        return {static_cast<int>(month), std::string(kMonths.at(month - 1))};
      }
      case GroupBy::pairing:
      case GroupBy::mismatch:
        break;
    }
    return named(batch.pairing);
  }

  // In the order in which the names turn up.
  GroupKey named(const std::string& name) {
    return {order_.try_emplace(name, static_cast<int>(order_.size())).first->second, name};
  }

  void add_by_mismatch(const BatchFate& batch) {
    int taken = batch.taken, lost = batch.lost;
    for (const GraftFate& graft : batch.grafts) {
      if (!graft.fate || graft.fate == Fate::out) continue;
      const bool took = graft.fate == Fate::taken;
      --(took ? taken : lost);
      const int order =
          graft.mismatch ? static_cast<int>(std::min<std::int64_t>(graft.mismatch->um() / 100, 3))
                         : 4;
      count(tally_of({order, mismatch_class(graft.mismatch)}), took ? 1 : 0, 1);
    }
    if (taken + lost > 0) count(tally_of({5, kNotTold}), taken, taken + lost);
  }

  Tally& tally_of(const GroupKey& key) { return groups_[key]; }

  GroupBy by_;
  std::map<std::string, int> order_;
  std::map<GroupKey, Tally> groups_;
};

}  // namespace

BatchFate fate_of(const Batch& batch, std::span<const Loss> losses, std::span<const Cull> culls,
                  const std::optional<Finish>& finish, const sensors::TimeZone& zone) {
  BatchFate fate;
  fate.batch = batch.id;
  fate.pairing = batch.scion + "/" + batch.rootstock;
  fate.scion = batch.scion;
  fate.rootstock = batch.rootstock;
  fate.by = batch.by;
  fate.regime = batch.regime;
  fate.method = batch.method;
  fate.grafted_on = zone.day_of(batch.at);
  fate.scored = finish && !finish->early;
  fate.taken = finish ? finish->taken : 0;
  for (const Graft& graft : batch.grafts) {
    fate.grafts.push_back({graft.number, mismatch_of(graft), std::nullopt});
  }
  int unnamed_lost = 0, unnamed_out = 0;
  for (const Loss& loss : losses) {
    const auto day = static_cast<int>((zone.day_of(loss.at) - fate.grafted_on).count());
    if (loss.late) {
      fate.later_losses.push_back({loss.cause, day, loss.count, loss.late});
      continue;
    }
    fate.losses.push_back({loss.cause, day, loss.count, {}});
    fate.lost += loss.count;
    unnamed_lost += mark(fate, loss, Fate::lost);
  }
  for (const Cull& cull : culls) {
    if (finish && cull.at >= finish->at) continue;
    unnamed_out += mark(fate, cull, Fate::out);
  }
  settle_rest(fate, unnamed_lost, unnamed_out);
  return fate;
}

std::string mismatch_class(std::optional<Millimetres> mismatch) {
  constexpr std::array<const char*, 4> kClasses{"under 0.1 mm", "0.1 to 0.2 mm", "0.2 to 0.3 mm",
                                                "0.3 mm or more"};
  if (!mismatch) return kNotNoted;
  return kClasses.at(static_cast<std::size_t>(std::min<std::int64_t>(mismatch->um() / 100, 3)));
}

std::vector<PairingTally> tallies_by(GroupBy by, std::span<const BatchFate> batches) {
  Gathering gathering(by);
  for (const BatchFate& batch : batches) gathering.add(batch);
  return gathering.tallies();
}

}  // namespace takehold::client
