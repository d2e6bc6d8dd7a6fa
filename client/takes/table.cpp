#include "client/takes/table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sensors/quantity/problem.hpp"

namespace takehold::client {
namespace {

constexpr double kSame = 0.01;  // rates closer than a percentage point are not told apart

void check_counts(std::span<const PairingTally> pairings) {
  for (const auto& [pairing, tally] : pairings) {
    if (0 <= tally.yes && tally.yes <= tally.tried) continue;
    throw sensors::Refused({"bad-count",
                            fmt::format("{} taken of {} grafted cannot be", tally.yes, tally.tried),
                            "", pairing, "taken lies between 0 and grafted"});
  }
}

TakeModel model_of(std::span<const PairingTally> pairings, const TakePrior& prior) {
  std::vector<Tally> tallies;
  for (const auto& pairing : pairings) tallies.push_back(pairing.tally);
  return TakeModel(tallies, prior);
}

TakeRow row_of(const std::string& pairing, Tally tally, const TakeModel& model) {
  TakeRow row;
  row.pairing = pairing;
  row.grafted = tally.tried;
  row.taken = tally.yes;
  if (tally.tried > 0) row.rate = static_cast<double>(tally.yes) / tally.tried;
  const TakeBelief belief = model.belief(tally);
  row.mean = belief.mean();
  row.p05 = belief.quantile(0.05);
  row.p95 = belief.quantile(0.95);
  const Interval interval = wilson(tally);
  row.wilson_low = interval.low;
  row.wilson_high = interval.high;
  return row;
}

}  // namespace

std::vector<TakeRow> take_rows(std::span<const PairingTally> pairings, const TakePrior& prior) {
  check_counts(pairings);
  const TakeModel model = model_of(pairings, prior);
  std::vector<TakeRow> rows;
  for (const auto& [pairing, tally] : pairings) rows.push_back(row_of(pairing, tally, model));
  return rows;
}

TakeRow prior_row(const TakePrior& prior) {
  return row_of("", {}, TakeModel({}, prior));
}

Comparison compare_takes(std::span<const PairingTally> all, std::size_t a, std::size_t b,
                         const TakePrior& prior) {
  check_counts(all);
  const Tally of_a = all[a].tally;
  const Tally of_b = all[b].tally;
  Comparison result;
  result.probability_a_better = model_of(all, prior).probability_better(of_a, of_b);
  if (of_a.tried == 0 || of_b.tried == 0) return result;
  result.fisher_p = fisher_two_sided(of_a, of_b);
  result.difference = newcombe(of_a, of_b);
  const double p = static_cast<double>(of_a.yes) / of_a.tried;
  const double q = static_cast<double>(of_b.yes) / of_b.tried;
  if (std::abs(p - q) < kSame) return result;
  const auto needed = static_cast<int>(std::ceil(trials_needed_each(p, q)));
  result.more_needed_each = std::max(0, needed - std::min(of_a.tried, of_b.tried));
  return result;
}

double trials_needed_each(double p, double q, double power, double level) {
  const double mean = (p + q) / 2;
  const double under_equal = normal_quantile(1 - level / 2) * std::sqrt(2 * mean * (1 - mean));
  const double under_seen = normal_quantile(power) * std::sqrt(p * (1 - p) + q * (1 - q));
  return std::pow((under_equal + under_seen) / (p - q), 2);
}

}  // namespace takehold::client
