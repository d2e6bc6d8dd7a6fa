#include "client/growth/stem_likelihood.hpp"

#include <algorithm>
#include <cmath>

namespace takehold::client {

StemLikelihood::StemLikelihood(const LotSeen& lot, std::vector<double> scatters)
    : lot_(lot), spread_(emergence_prior(lot.species).seed_spread), scatters_(std::move(scatters)) {
  for (std::size_t s = 0; s < lot.sowings.size(); ++s) {
    for (const SeedlingSeen& seedling : lot.sowings[s].seedlings) {
      std::vector<Age> ages;
      std::vector<double> ln_readings;
      for (const StemSeen& reading : seedling.readings) {
        ages.push_back(reading.at);
        ln_readings.push_back(std::log(reading.diameter.mm()));
      }
      if (ages.empty()) continue;
      auto group = std::find_if(groups_.begin(), groups_.end(),
                                [&](const Group& g) { return g.sowing == s && g.ages == ages; });
      if (group == groups_.end()) group = groups_.insert(groups_.end(), Group{s, ages, {}, {}, {}});
      group->ln_readings.push_back(std::move(ln_readings));
    }
  }
}

void StemLikelihood::set_emergence(double ln_e) {
  for (Group& group : groups_) {
    const Course& course = *lot_.sowings[group.sowing].course;
    group.weights.clear();
    group.heats.clear();
    for (const UpNode& node : nodes_up(course, ln_e, spread_, group.ages.front())) {
      group.weights.push_back(node.weight);
      for (const Age age : group.ages) {
        group.heats.push_back(course.heat_between(node.up, age).degc_days());
      }
    }
  }
}

double StemLikelihood::log_of_group(const Group& group, std::span<const double> ln_expected,
                                    double scatter) {
  const std::size_t occasions = group.ages.size();
  double log = 0;
  for (const auto& readings : group.ln_readings) {
    double likelihood = 0;
    for (std::size_t node = 0; node < group.weights.size(); ++node) {
      SizeBelief belief{1, 0, scatter * scatter};
      for (std::size_t j = 0; j < occasions; ++j) {
        learn_size(belief, readings[j], ln_expected[node * occasions + j]);
      }
      likelihood += group.weights[node] * belief.likelihood;
    }
    log += std::log(likelihood);
  }
  return log;
}

std::vector<double> StemLikelihood::log_at(double ln_v) const {
  const double vigour = std::exp(ln_v);
  std::vector<double> logs(scatters_.size());
  std::vector<double> ln_expected;
  for (const Group& group : groups_) {
    ln_expected.clear();
    for (const double heat : group.heats) {
      ln_expected.push_back(StemGrowth{}.ln_mm(sensors::ThermalTime::degc_days(heat), vigour));
    }
    for (std::size_t i = 0; i < scatters_.size(); ++i) {
      logs[i] += log_of_group(group, ln_expected, std::exp(scatters_[i]));
    }
  }
  return logs;
}

}  // namespace takehold::client
