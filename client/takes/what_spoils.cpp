#include "client/takes/what_spoils.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "client/takes/factor_table.hpp"
#include "client/takes/logistic.hpp"

namespace takehold::client {
namespace {

// A change of two standard deviations in a number, or the other way of two, moves the log odds by
// N(0, 2.5²): weak (Gelman et al. 2008, Ann. Appl. Stat. 2:1360, scale; normal, not Cauchy, ours).
constexpr double kPriorSd = 2.5;
constexpr double kIntercept = 10;  // its prior's sd: as good as none
constexpr double kNoted = 0.8;     // of the grafts must have it noted

struct Counts {
  int yes = 0, no = 0;
  int fewer() const { return std::min(yes, no); }
};

class Selection {
 public:
  explicit Selection(std::vector<Sample> samples) : samples_(std::move(samples)) {}

  void consider(Factor factor) {
    const auto known = with(factor);
    const Counts all = counts_of(samples_), kept = counts_of(known);
    if (kept.yes + kept.no < kNoted * (all.yes + all.no)) {
      leave(factor, "not-noted",
            fmt::format("known of {} of {} grafts", kept.yes + kept.no, all.yes + all.no));
      return;
    }
    const auto columns = columns_of(factor, known);
    if (columns.empty()) {
      leave(factor, "no-difference", "the same, or nearly, for all grafts: nothing to compare");
      return;
    }
    const auto needed = static_cast<int>(columns_.size() + columns.size()) * kFailuresAFactor;
    if (kept.fewer() < needed) {
      leave(factor, "too-few",
            fmt::format("too few {} to tell: {} where at least {} are needed",
                        kept.no <= kept.yes ? "failures" : "takes", kept.fewer(), needed));
      return;
    }
    samples_ = known;
    columns_.insert(columns_.end(), columns.begin(), columns.end());
  }

  // Takes out what parts takes from failures completely, for its odds have no end.
  void take_out_separated() {
    while (!columns_.empty()) {
      const auto lines = trials_of(samples_, columns_);
      const auto parted = separated_columns(lines);
      const auto worst = std::find_if(parted.begin(), parted.end(), [](auto k) { return k > 0; });
      if (worst == parted.end()) return;
      const Factor factor = columns_[*worst - 1].factor;
      leave(factor, "separated",
            "it parts the grafts that took from those that failed without exception: no odds can "
            "be given, a trial could tell");
      std::erase_if(columns_, [&](const FactorColumn& c) { return c.factor == factor; });
    }
  }

  const std::vector<Sample>& samples() const { return samples_; }
  const std::vector<FactorColumn>& columns() const { return columns_; }
  std::vector<FactorLeftOut> left_out() && { return std::move(left_out_); }

  static Counts counts_of(const std::vector<Sample>& samples) {
    Counts counts;
    for (const Sample& s : samples) {
      counts.yes += s.tally.yes;
      counts.no += s.tally.tried - s.tally.yes;
    }
    return counts;
  }

 private:
  std::vector<Sample> with(Factor factor) const {
    std::vector<Sample> known;
    std::copy_if(samples_.begin(), samples_.end(), std::back_inserter(known),
                 [&](const Sample& s) { return is_known(factor, s); });
    return known;
  }

  void leave(Factor factor, std::string code, std::string why) {
    left_out_.push_back({factor, std::move(code), std::move(why)});
  }

  std::vector<Sample> samples_;
  std::vector<FactorColumn> columns_;
  std::vector<FactorLeftOut> left_out_;
};

std::vector<double> precision_of(const std::vector<FactorColumn>& columns) {
  std::vector<double> precision{1 / (kIntercept * kIntercept)};
  for (const FactorColumn& column : columns) {
    precision.push_back(std::pow(column.span / kPriorSd, 2));
  }
  return precision;
}

FactorEffect effect_of(const FactorColumn& column, double slope, double error) {
  const double reach = normal_quantile(0.975) * error;
  return {column.factor,           column.of, std::exp(slope), std::exp(slope - reach),
          std::exp(slope + reach), slope,     error,           column.usual};
}

void fit(WhatSpoils& found, const Selection& selection) {
  const auto& columns = selection.columns();
  const auto lines = trials_of(selection.samples(), columns);
  const int groups = lines.empty() ? 0 : groups_in(lines);
  const auto precision = precision_of(columns);
  LogisticFit fitted;
  if (groups > 1) {
    GroupedFit grouped = fit_grouped(lines, precision, true);
    found.pairing_sd = grouped.group_sd;
    fitted = std::move(grouped.fixed);
  } else {
    fitted = fit_logistic(lines, precision);
  }
  for (std::size_t k = 0; k < columns.size(); ++k) {
    found.effects.push_back(
        effect_of(columns[k], fitted.estimate[k + 1], fitted.standard_error[k + 1]));
  }
}

}  // namespace

WhatSpoils what_spoils(std::span<const BatchFate> batches) {
  WhatSpoils found;
  std::vector<Tally> tallies;
  for (const BatchFate& batch : batches) {
    if (!batch.scored) continue;
    found.grafts += batch.judged();
    found.failures += batch.lost;
    tallies.push_back({batch.taken, batch.judged()});
  }
  found.batches = scatter_of(tallies);
  Selection selection(samples_of(batches));
  for (const auto& [factor, name] : EnumNames<Factor>::value) selection.consider(factor);
  selection.take_out_separated();
  const Counts used = Selection::counts_of(selection.samples());
  found.used = used.yes + used.no;
  if (!selection.columns().empty()) fit(found, selection);
  found.left_out = std::move(selection).left_out();
  return found;
}

}  // namespace takehold::client
