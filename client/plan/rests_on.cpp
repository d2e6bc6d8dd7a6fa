#include "client/plan/rests_on.hpp"

#include <fmt/format.h>

#include <boost/math/distributions/beta.hpp>
#include <cmath>

#include "client/plan/season_basis.hpp"
#include "client/season/normal.hpp"
#include "client/takes/take_knowledge.hpp"

namespace takehold::client {
namespace {

using Numbers = std::vector<PlanNumber>;

constexpr double kLow = 0.05, kHigh = 0.95;

std::string counted(int count, const char* one, const char* more) {
  return fmt::format("{} {}", count, count == 1 ? one : more);
}

// "24 stems of it, 60 of other lots"
std::string record_text(const OwnRecord& record, const char* one, const char* more) {
  if (record.of_others == 0) return counted(record.of_lot, one, more) + " of it";
  if (record.of_lot == 0) return counted(record.of_others, one, more) + " of other lots";
  return fmt::format("{} of it, {} of other lots", counted(record.of_lot, one, more),
                     record.of_others);
}

PlanNumber viability_of(const std::string& lot, const SeedSource& source) {
  const Chance chance = source.known.viability;
  const boost::math::beta_distribution<> beta(chance.a, chance.b);
  PlanNumber number{"viability", lot, chance.mean(), quantile(beta, kLow), quantile(beta, kHigh)};
  const int counted_here = source.known.counted.of_lot;
  if (source.tested + counted_here == 0) {
    number.text = "assumed by origin and age";
    return number;
  }
  number.from = NumberFrom::own_record;
  if (source.tested > 0) number.text = counted(source.tested, "seed", "seeds") + " tested";
  if (counted_here > 0) {
    number.text += (number.text.empty() ? "" : ", ") + counted(counted_here, "seed", "seeds") +
                   " sown and counted";
  }
  return number;
}

PlanNumber speed(const char* what, const std::string& lot, LogBelief before, const Marginal* after,
                 const OwnRecord& record, const char* one, const char* more) {
  const double mean = after ? after->mean() : before.mean, sd = after ? after->sd() : before.sd;
  const auto at = [&](double p) { return std::exp(mean + sd * normal_quantile(p)); };
  PlanNumber number{what, lot, std::exp(mean), at(kLow), at(kHigh)};
  number.text = "assumed";
  if (record.is_assumed()) return number;
  number.from = NumberFrom::own_record;
  number.text = record_text(record, one, more);
  return number;
}

void add_lot(Numbers& numbers, const SeedSource& source) {
  const std::string lot = source.lot.value_or(source.variety);
  const LotKnowledge& known = source.known;
  const LotPosterior* seen = known.posterior.get();
  numbers.push_back(viability_of(lot, source));
  numbers.push_back(speed("emergence", lot, known.ln_emergence,
                          seen ? &seen->ln_emergence() : nullptr, known.counted, "seed", "seeds"));
  numbers.push_back(speed("vigour", lot, known.ln_vigour, seen ? &seen->ln_vigour() : nullptr,
                          known.measured, "stem", "stems"));
  const bool is_given = source.price_is_known;
  numbers.push_back({"seed_price",
                     lot,
                     source.price_each,
                     {},
                     {},
                     is_given ? NumberFrom::sheet : NumberFrom::assumed,
                     is_given ? "price of the packet" : "assumed"});
}

PlanNumber take_number(const PlanBasis& basis, const Pairing& pairing) {
  TakeKnowledge known;
  known.belief = take_of(basis, pairing);
  for (const auto& [names, tally] : basis.request.takes) {
    (names == pairing.names() ? known.own_grafts : known.other_grafts) += tally.tried;
  }
  const std::string about = pairing.id.empty() ? pairing.names() : pairing.id;
  return {"take",
          about,
          known.belief.mean(),
          known.belief.quantile(kLow),
          known.belief.quantile(kHigh),
          known.is_assumed() ? NumberFrom::assumed : NumberFrom::own_record,
          known.source()};
}

void add_season(Numbers& numbers, const PlanRequest& request) {
  const auto price = [&](const char* what, const std::optional<double>& given, double assumed) {
    numbers.push_back({what,
                       "",
                       given.value_or(assumed),
                       {},
                       {},
                       given ? NumberFrom::sheet : NumberFrom::assumed,
                       given ? "the sheet's" : "assumed"});
  };
  price("cell_price", request.season.cell_price, kCellPrice);
  price("graft_price", request.season.graft_price, kGraftPrice);
  const BenchCycle bench = start_bench(request);
  const bool has_bench = !request.benches.empty();
  for (const auto& [what, degc] : {std::pair{"bench_day_degc", bench.day.degc()},
                                   std::pair{"bench_night_degc", bench.night.degc()}}) {
    numbers.push_back({what,
                       "",
                       degc,
                       {},
                       {},
                       has_bench ? NumberFrom::sheet : NumberFrom::assumed,
                       has_bench ? "the sheet's first bench" : "assumed: no bench in the sheet"});
  }
}

void add_constants(Numbers& numbers, const PlanRequest& request) {
  const auto add = [&](const char* what, double value, NumberFrom from, const char* text) {
    numbers.push_back({what, "", value, {}, {}, from, text});
  };
  const StemGrowth stem;
  const Graftable graftable;
  add("stem_asymptote_mm", stem.asymptote.mm(), NumberFrom::assumed,
      "of a growth curve whose shape is published");
  add("stem_at_emergence_mm", stem.at_emergence.mm(), NumberFrom::assumed, "likewise");
  add("stem_rate_per_degc_day", stem.rate_per_degc_day, NumberFrom::assumed, "likewise");
  add("seedling_scatter", kSeedlingSd, NumberFrom::assumed,
      "of lots not measured this season; others as measured");
  add("graftable_from_mm", graftable.thinnest.mm(), NumberFrom::published, "clip sizes");
  add("graftable_to_mm", graftable.thickest.mm(), NumberFrom::published, "clip sizes");
  add("graftable_heat_degc_days", graftable.heat.degc_days(), NumberFrom::assumed,
      "two to three true leaves");
  const bool is_default = request.season.tolerance_pct == Season{}.tolerance_pct;
  add("tolerance_pct", request.season.tolerance_pct,
      is_default ? NumberFrom::assumed : NumberFrom::sheet,
      is_default ? "the published rule is equal diameters" : "the sheet's");
}

}  // namespace

std::vector<PlanNumber> numbers_under(const PlanBasis& basis, const SeedBox& box) {
  Numbers numbers;
  for (std::size_t i = 0; i < box.size(); ++i) {
    if (box.at(i).needed > 0) add_lot(numbers, box.at(i));
  }
  for (const Pairing& pairing : basis.request.pairings) {
    numbers.push_back(take_number(basis, pairing));
  }
  add_season(numbers, basis.request);
  add_constants(numbers, basis.request);
  return numbers;
}

}  // namespace takehold::client
