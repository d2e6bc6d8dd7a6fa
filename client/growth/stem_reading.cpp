#include "client/growth/stem_reading.hpp"

#include <algorithm>
#include <boost/math/quadrature/gauss.hpp>
#include <cmath>
#include <numbers>

#include "client/season/normal.hpp"
#include "client/season/stem_text.hpp"

namespace takehold::client {
namespace {

// Share of a lot's living seeds that are up by an age.
double share_up(const Course& course, double ln_e, double spread, Age at) {
  const double progress = course.progress_at(at);
  return progress <= 0 ? 0 : normal_below((std::log(progress) - ln_e) / spread);
}

}  // namespace

void learn_size(SizeBelief& belief, double ln_reading, double ln_expected) {
  static const double kLnRange = std::log(kThickestStem / kThinnestStem);
  const double error = kCalliperError.mm() * std::exp(-ln_expected);
  const double off = ln_reading - ln_expected - belief.mean;
  const double total = belief.variance + error * error;
  const double right = (1 - kWrongShare) * std::exp(-0.5 * off * off / total) /
                       std::sqrt(2 * std::numbers::pi * total);
  const double wrong = kWrongShare / kLnRange;
  const double share = right / (right + wrong);
  const double gain = belief.variance / total;
  const double moved = gain * off;
  belief.likelihood *= right + wrong;
  belief.mean += share * moved;
  belief.variance = belief.variance * (1 - share * gain) + share * (1 - share) * moved * moved;
}

std::optional<Age> age_up(const Course& course, double ln_e, double spread, double part,
                          std::optional<Age> after, std::optional<Age> by) {
  const double from = after ? share_up(course, ln_e, spread, *after) : 0;
  const double to = by ? share_up(course, ln_e, spread, *by) : 1;
  const double level = from + part * (to - from);
  // Where rounding leaves no room between the two, it came up at the later of them.
  if (level <= 0 || level >= 1 || to <= from) return by ? by : after;
  return course.age_at_progress(std::exp(ln_e + spread * normal_quantile(level)));
}

UpNodes nodes_up(const Course& course, double ln_e, double spread, Age by) {
  using Rule = boost::math::quadrature::gauss<double, kUpNodes>;
  UpNodes nodes;
  std::size_t next = 0;
  const auto add = [&](double x, double weight) {
    const auto up = age_up(course, ln_e, spread, (1 + x) / 2, std::nullopt, by);
    nodes[next++] = {weight / 2, std::min(up.value_or(by), by)};
  };
  for (std::size_t i = 0; i < Rule::abscissa().size(); ++i) {
    const double x = Rule::abscissa()[i];
    add(x, Rule::weights()[i]);
    if (x != 0) add(-x, Rule::weights()[i]);
  }
  return nodes;
}

}  // namespace takehold::client
