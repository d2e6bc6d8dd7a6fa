#include "client/growth/lot_lattice.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "client/growth/assumed_speed.hpp"
#include "client/season/normal.hpp"

namespace takehold::client {
namespace {

constexpr double kSpanSd = 4.5;     // of the prior, to either side: 7e-6 left out
constexpr double kFirstStep = 0.5;  // prior sd between the first points
constexpr int kFirstPlaces = static_cast<int>(kSpanSd / kFirstStep);
constexpr double kNegligible = 12;  // ln of the density below its peak: with it 1e-5 of the mass
constexpr int kLastLevel = 7;       // spacing 1/256 prior sd: thousands of readings
constexpr double kStill = 0.01;     // posterior sd that moments may still move

constexpr double kScatterSpan = 3;       // prior sd to either side
constexpr double kCoarseScatters = 0.3;  // step of ln scatter on the first lattice
constexpr double kFineScatters = 0.15;   // and on the finer ones, at most

double log_sum(const std::vector<double>& logs) {
  const double most = *std::max_element(logs.begin(), logs.end());
  double sum = 0;
  for (const double log : logs) sum += std::exp(log - most);
  return most + std::log(sum);
}

std::vector<double> scatters_between(double from, double to, double step) {
  const int steps = std::max(1, static_cast<int>(std::ceil((to - from) / step)));
  std::vector<double> scatters;
  for (int i = 0; i <= steps; ++i) scatters.push_back(from + (to - from) * i / steps);
  return scatters;
}

double scatter_prior(double ln_scatter) {
  return log_normal_density(ln_scatter - std::log(kSeedlingSd), kScatterSpread * kScatterSpread);
}

bool stands_still(const LotLattice::Moments& before, const LotLattice::Moments& now) {
  return std::abs(now.mean_e - before.mean_e) < kStill * now.sd_e &&
         std::abs(now.mean_v - before.mean_v) < kStill * now.sd_v &&
         std::abs(now.sd_e - before.sd_e) < kStill * now.sd_e &&
         std::abs(now.sd_v - before.sd_v) < kStill * now.sd_v;
}

std::vector<double> coarse_scatters() {
  const double span = kScatterSpan * kScatterSpread;
  return scatters_between(std::log(kSeedlingSd) - span, std::log(kSeedlingSd) + span,
                          kCoarseScatters);
}

}  // namespace

LotLattice::LotLattice(const LotSeen& lot)
    : counts_(lot),
      stems_(lot, coarse_scatters()),
      prior_e_(lot.ln_emergence.value_or(assumed_emergence(lot.species))),
      prior_v_(lot.ln_vigour.value_or(assumed_vigour())) {
  for (const SowingSeen& sowing : lot.sowings) seedlings_ += sowing.seedlings.size();
}

double LotLattice::ln_e(int place) const {
  return prior_e_.mean + prior_e_.sd * kFirstStep * std::ldexp(place, -level_);
}

double LotLattice::ln_v(int place) const {
  return prior_v_.mean + prior_v_.sd * kFirstStep * std::ldexp(place, -level_);
}

const LotLattice::Row& LotLattice::row_at(int place) {
  const auto [found, is_new] = rows_.try_emplace(place);
  if (!is_new) return found->second;
  Row& row = found->second;
  row.by_share = counts_.log_by_share(ln_e(place));
  row.log_evidence = log_sum(row.by_share) +
                     log_normal_density(ln_e(place) - prior_e_.mean, prior_e_.sd * prior_e_.sd);
  const double most = *std::max_element(row.by_share.begin(), row.by_share.end());
  for (double& log : row.by_share) log = std::exp(log - most);
  return row;
}

void LotLattice::evaluate(const std::vector<Place>& places) {
  const auto& scatters = stems_.scatters();
  int prepared = 0;
  bool is_prepared = false;
  for (const Place& place : places) {
    const double row = row_at(place.first).log_evidence;
    if (!is_prepared || prepared != place.first) {
      stems_.set_emergence(ln_e(place.first));
      prepared = place.first;
      is_prepared = true;
    }
    const double v = ln_v(place.second);
    std::vector<double> logs = stems_.log_at(v);
    for (std::size_t i = 0; i < logs.size(); ++i) {
      logs[i] += row + log_normal_density(v - prior_v_.mean, prior_v_.sd * prior_v_.sd) +
                 scatter_prior(scatters[i]);
    }
    points_[place] = std::move(logs);
  }
}

double LotLattice::highest() const {
  double most = -INFINITY;
  for (const auto& [place, logs] : points_) most = std::max(most, log_sum(logs));
  return most;
}

// The places of the next level around those that have any mass.
std::vector<LotLattice::Place> LotLattice::refined() const {
  const double most = highest();
  std::set<Place> places;
  for (const auto& [place, logs] : points_) {
    if (log_sum(logs) < most - kNegligible) continue;
    for (int e = -1; e <= 1; ++e) {
      for (int v = -1; v <= 1; ++v) {
        places.insert({2 * place.first + e, 2 * place.second + v});
      }
    }
  }
  return {places.begin(), places.end()};
}

// Scatters beyond the ones that matter need not be looked at on the finer lattices.
void LotLattice::keep_likely_scatters() {
  const auto& scatters = stems_.scatters();
  std::vector<double> best(scatters.size(), -INFINITY);
  for (const auto& [place, logs] : points_) {
    for (std::size_t i = 0; i < logs.size(); ++i) best[i] = std::max(best[i], logs[i]);
  }
  const double most = *std::max_element(best.begin(), best.end());
  std::size_t first = 0;
  std::size_t last = best.size() - 1;
  while (best[first] < most - kNegligible && first + 1 < last) ++first;
  while (best[last] < most - kNegligible && last > first + 1) --last;
  first -= first > 0 ? 1 : 0;
  last += last + 1 < best.size() ? 1 : 0;
  // The sd of ln scatter after n seedlings is about 1/sqrt(2n); a step of it converges.
  const double step = std::min(kFineScatters, 1 / std::sqrt(2.0 * (seedlings_ + 1.0)));
  stems_.keep_scatters(scatters_between(scatters[first], scatters[last], step));
}

LotLattice::Moments LotLattice::moments() const {
  const double most = highest();
  double total = 0, e = 0, v = 0, ee = 0, vv = 0, ev = 0;
  for (const auto& [place, logs] : points_) {
    const double mass = std::exp(log_sum(logs) - most);
    const double x = ln_e(place.first) - prior_e_.mean;
    const double y = ln_v(place.second) - prior_v_.mean;
    total += mass;
    e += mass * x;
    v += mass * y;
    ee += mass * x * x;
    vv += mass * y * y;
    ev += mass * x * y;
  }
  e /= total;
  v /= total;
  return {e, v, std::sqrt(std::max(0.0, ee / total - e * e)),
          std::sqrt(std::max(0.0, vv / total - v * v)), ev / total - e * v};
}

void LotLattice::refine() {
  std::vector<Place> places;
  for (int e = -kFirstPlaces; e <= kFirstPlaces; ++e) {
    for (int v = -kFirstPlaces; v <= kFirstPlaces; ++v) places.push_back({e, v});
  }
  evaluate(places);
  keep_likely_scatters();
  for (Moments before = moments(); level_ < kLastLevel;) {
    const std::vector<Place> next = refined();
    ++level_;
    rows_.clear();
    points_.clear();
    evaluate(next);
    const Moments now = moments();
    if (stands_still(before, now)) break;
    before = now;
  }
}

double LotLattice::correlation() const {
  const Moments m = moments();
  return m.covariance / (m.sd_e * m.sd_v);
}

std::vector<LotLattice::Cell> LotLattice::cells() const {
  const double most = highest();
  std::vector<Cell> cells;
  for (const auto& [place, logs] : points_) {
    Cell cell{place.first, place.second, 0, {}};
    for (const double log : logs) {
      cell.by_scatter.push_back(std::exp(log - most));
      cell.mass += cell.by_scatter.back();
    }
    cells.push_back(std::move(cell));
  }
  return cells;
}

}  // namespace takehold::client
