// What a season plan says, and what it is made from. The keys of its JSON are its members' names.
#pragma once

#include <chrono>
#include <map>
#include <memory>
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <vector>

#include "client/growth/lot_knowledge.hpp"
#include "client/plan/chamber_plan.hpp"
#include "client/season/pairing.hpp"
#include "client/season/place.hpp"
#include "client/season/season.hpp"
#include "client/season/seed.hpp"
#include "client/season/sheet.hpp"
#include "client/takes/take_model.hpp"
#include "daemon/healing/regime.hpp"

namespace takehold::client {

/// Seed that is in its trays already.
struct SownSeed {
  std::string id{};  ///< "S3"
  std::string lot{};
  std::string variety{};
  Day sown_on{};
  int seeds = 0;
  std::optional<int> standing{};  ///< plants, when they were counted
  std::optional<Side> side{};
  std::vector<std::string> pairings{};  ///< "P3": whom it is for, if that was said
  /// The warmth it had and will have, from noon of its day on; null: the first bench's.
  std::shared_ptr<const Course> course{};
};

/// Grafts of one pairing made already this season.
struct GraftsMade {
  int taken = 0;    ///< finished, and living or given away since
  int pending = 0;  ///< still in healing
};

/// Everything a plan depends on. It opens nothing and knows no clock: the same request, the same
/// plan.
struct PlanRequest {
  Day made_on{};  ///< no earlier day is proposed
  Season season{};
  std::vector<Bed> beds{};
  std::vector<Bench> benches{};  ///< the first is where sowings start; none: 22 degC (assumed)
  std::vector<Variety> varieties{};
  std::vector<Lot> lots{};
  std::vector<LotTest> lot_tests{};
  std::map<std::string, int> on_hand{};  ///< seeds left, by lot; a lot not here has Lot::seeds
  /// By lot, what records of this and earlier seasons say of it; a lot not here is as assumed, but
  /// for its tests.
  std::map<std::string, LotKnowledge> known{};
  std::vector<Pairing> pairings{};
  std::vector<OwnRoot> own_roots{};
  std::vector<SownSeed> sown{};              ///< counts as given
  std::map<std::string, GraftsMade> made{};  ///< by Pairing::id
  std::map<std::string, Tally> takes{};      ///< own record, by Pairing::names()
  int seasons = 4096;                        ///< simulated
  bool separate = false;                     ///< no stems are shared between pairings
  std::chrono::minutes regime_length = std::chrono::days(14);  ///< from graft to hardened
  std::chrono::minutes chamber_length = std::chrono::days(7);  ///< of it, in the chamber
  std::optional<daemon::Regime> regime{};  ///< nothing: what batches ask of the air is not compared
  std::vector<BatchInside> inside{};       ///< the chamber, when the plan is made
};

/// The request that a sheet alone makes: no own take rates, all seed still there. With a length
/// alone, the time in the chamber is the default.
PlanRequest request_of(const Sheet& sheet, Day made_on, std::chrono::minutes regime_length);
PlanRequest request_of(const Sheet& sheet, Day made_on, const daemon::Regime& regime);

/// Where a number that the plan rests on comes from.
enum class NumberFrom { own_record, sheet, published, assumed };
template <>
struct EnumNames<NumberFrom> {
  static constexpr Spelling<NumberFrom, 4> value{{{NumberFrom::own_record, "own record"},
                                                  {NumberFrom::sheet, "sheet"},
                                                  {NumberFrom::published, "published"},
                                                  {NumberFrom::assumed, "assumed"}}};
};

struct PlanNumber {
  std::string what{};   ///< stable: "viability", "take" ...; with its unit: "bench_day_degc"
  std::string about{};  ///< lot or pairing; or empty
  double value = 0;
  std::optional<double> p05{}, p95{};  ///< 9 in 10 lie between; nothing where it counts as certain
  NumberFrom from = NumberFrom::assumed;
  std::string text{};  ///< "20 seeds tested", "assumed of bought seed"
};

/// One lot sown on one day.
struct ProposedSowing {
  std::optional<std::string> lot{};     ///< nothing: of seed still to be bought
  std::optional<std::string> sowing{};  ///< "S3" when it is in its trays already
  std::string variety{};
  Day sow_on{};
  int seeds = 0;
  int cells = 0;
};

/// A count that is not known yet: exceeded 9 times in 10, on average, 1 time in 10.
struct CountOutlook {
  int p10 = 0;
  double mean = 0;
  int p90 = 0;
};

/// What keeps a pairing from a higher probability, most of all.
enum class LimitedBy { emergence, spread, mismatch, take, seed };
template <>
struct EnumNames<LimitedBy> {
  static constexpr Spelling<LimitedBy, 5> value{{{LimitedBy::emergence, "emergence"},
                                                 {LimitedBy::spread, "spread"},
                                                 {LimitedBy::mismatch, "mismatch"},
                                                 {LimitedBy::take, "take"},
                                                 {LimitedBy::seed, "seed"}}};
};

struct PlannedPairing {
  std::string id{};  ///< "P3"; empty from a sheet
  std::string scion{};
  std::string rootstock{};
  int want = 0;
  GraftsMade made{};              ///< of them, before the plan; counted in `finished`
  std::optional<Day> graft_on{};  ///< nothing when the bench is too cold or hot to raise the
                                  ///< plants, or the grafts made reach the confidence
  std::vector<ProposedSowing> rootstock_sowings{};
  std::vector<ProposedSowing> scion_sowings{};
  std::optional<int> offset_days{};  ///< scion's main sowing minus rootstock's
  int grafts = 0;                    ///< the most to be made
  CountOutlook finished{};
  double probability = 0;  ///< of at least `want` finished in time from the sowings listed
  std::optional<double> standard_error{};  ///< nothing where `probability` was not simulated
  std::optional<LimitedBy> limited_by{};
  double cost = 0;  ///< seed, cells and grafts
};

struct PlannedOwnRoot {
  std::string variety{};
  int want = 0;
  std::optional<std::string> lot{};  ///< nothing: still to be bought
  std::optional<Day> sow_on{};
  int seeds = 0;
  int cells = 0;
  double probability = 0;
};

/// A line of the sowing list: what all plants together need of one lot on one day.
struct SowingLine {
  std::optional<std::string> lot{};
  std::string variety{};
  Day sow_on{};
  int seeds = 0;
  int cells = 0;
  std::vector<std::string> purposes{};  ///< "for" in JSON: pairings by id, else names; "own root"
  Side side = Side::scion;
};

struct SeedBalance {
  std::string lot{};
  int on_hand = 0;
  int needed = 0;    ///< for the confidence asked
  int short_by = 0;  ///< "short" in JSON
};

/// So many packets more of a lot.
struct PacketGain {
  int seeds = 0;
  double plants_gained = 0;
  std::optional<double> price{};
};

struct SeedPurchase {
  std::string variety{};
  std::optional<std::string> lot{};  ///< of which there is too little
  int seeds = 0;                     ///< all that is missing
  double plants_gained = 0;
  std::optional<double> price{};
  std::vector<PacketGain> packets{};  ///< one, two ... of them, where the packet's size is known
};

/// One rootstock sowing whose stems several pairings share.
struct SharedSowing {
  std::optional<std::string> lot{};
  std::string variety{};
  int seeds = 0;
  int seeds_apart = 0;                  ///< planned each for itself, in one wave
  std::vector<std::string> pairings{};  ///< by id, else names
};

/// Something the grower should know though the plan stands.
struct PlanNote {
  std::string code{};   ///< stable: "simple-plan", "late", "out-of-reach" ...
  std::string about{};  ///< pairing, variety or lot; or empty
  std::string text{};
};

struct SeasonPlan {
  double confidence = 0;
  Day ready_on{};
  int seasons = 0;  ///< simulated
  int seed = 1;     ///< of its random numbers
  std::vector<PlannedPairing> pairings{};
  std::vector<PlannedOwnRoot> own_root{};
  std::vector<SharedSowing> shared{};
  std::vector<SowingLine> sowings{};  ///< by day, then lot
  std::vector<SeedBalance> seeds{};   ///< "seed" in JSON
  std::vector<SeedPurchase> buy{};
  ChamberPlan chamber{};
  std::vector<PlanNumber> rests_on{};
  std::vector<PlanNote> warnings{};
};

/// The object under the contract's key "plan"; every key there, null when unknown.
void to_json(nlohmann::json& json, const SeasonPlan& plan);

}  // namespace takehold::client
