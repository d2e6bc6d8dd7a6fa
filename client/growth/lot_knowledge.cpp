#include "client/growth/lot_knowledge.hpp"

#include <algorithm>

#include "client/growth/assumed_speed.hpp"

namespace takehold::client {
namespace {

// One lot's speeds of one season, as they speak to other lots and later seasons.
struct Learned {
  std::size_t lot;
  int years_ago;
  LogBelief ln_emergence, ln_vigour;
};

int seeds_counted(const std::vector<SowingSeen>& sowings) {
  int sum = 0;
  for (const SowingSeen& sowing : sowings) sum += sowing.counts.empty() ? 0 : sowing.seeds;
  return sum;
}

int stems_measured(const std::vector<SowingSeen>& sowings) {
  std::size_t sum = 0;
  for (const SowingSeen& sowing : sowings) sum += sowing.seedlings.size();
  return static_cast<int>(sum);
}

bool says_anything(const SeasonSeen& season) {
  return season.years_ago <= kYearsRemembered &&
         seeds_counted(season.sowings) + stems_measured(season.sowings) > 0;
}

LogBelief normal_of(const Marginal& marginal) {
  return {marginal.mean(), marginal.sd()};
}

// The Beta distribution of the same mean and variance.
Chance beta_of(const Marginal& share) {
  const double weight = share.mean() * (1 - share.mean()) / (share.sd() * share.sd()) - 1;
  return {share.mean() * weight, (1 - share.mean()) * weight};
}

class VarietyRecord {
 public:
  VarietyRecord(Species species, const std::vector<LotHistory>& lots)
      : species_(species), lots_(lots) {
    for (std::size_t i = 0; i < lots.size(); ++i) {
      Chance& viability = viability_.emplace_back(lots[i].viability);
      for (const SeasonSeen& season : lots[i].seasons) {
        if (!says_anything(season)) continue;
        const bool speaks = season.years_ago > 0 || lots.size() > 1;
        if (!speaks) continue;
        const LotPosterior posterior({species, viability, season.sowings});
        learned_.push_back({i, season.years_ago, normal_of(posterior.ln_emergence()),
                            normal_of(posterior.ln_vigour())});
        if (season.years_ago > 0) viability = beta_of(posterior.viability());
      }
    }
  }

  LotKnowledge of(std::size_t lot) const {
    LotKnowledge known = from_others(lot);
    const auto is_own = [&](const Learned& one) { return one.lot == lot && one.years_ago > 0; };
    known.ln_emergence = sharpened(known.ln_emergence, assumed_emergence(species_),
                                   speeds(is_own, &Learned::ln_emergence));
    known.ln_vigour =
        sharpened(known.ln_vigour, assumed_vigour(), speeds(is_own, &Learned::ln_vigour));
    for (const SeasonSeen& season : lots_[lot].seasons) {
      if (season.years_ago > 0 || !says_anything(season)) continue;
      known.posterior = std::make_shared<LotPosterior>(
          LotSeen{species_, known.viability, season.sowings, known.ln_emergence, known.ln_vigour});
      known.viability = beta_of(known.posterior->viability());
    }
    return known;
  }

  LotKnowledge from_others(std::size_t lot) const {
    LotKnowledge known;
    known.viability = viability_[lot];
    const auto is_other = [&](const Learned& one) { return one.lot != lot; };
    known.ln_emergence =
        carried_over(assumed_emergence(species_), speeds(is_other, &Learned::ln_emergence));
    known.ln_vigour = carried_over(assumed_vigour(), speeds(is_other, &Learned::ln_vigour));
    for (std::size_t i = 0; i < lots_.size(); ++i) {
      for (const SeasonSeen& season : lots_[i].seasons) {
        if (!says_anything(season)) continue;
        (i == lot ? known.counted.of_lot : known.counted.of_others) +=
            seeds_counted(season.sowings);
        (i == lot ? known.measured.of_lot : known.measured.of_others) +=
            stems_measured(season.sowings);
      }
    }
    return known;
  }

 private:
  template <class Wanted>
  std::vector<PastSpeed> speeds(Wanted is_wanted, LogBelief Learned::*which) const {
    std::vector<PastSpeed> list;
    for (const Learned& one : learned_) {
      if (is_wanted(one)) list.push_back({one.*which, static_cast<double>(one.years_ago)});
    }
    return list;
  }

  Species species_;
  const std::vector<LotHistory>& lots_;
  std::vector<Chance> viability_;  // with earlier seasons' counts
  std::vector<Learned> learned_;
};

}  // namespace

LotKnowledge assumed_of(Species species, Chance viability) {
  LotKnowledge known;
  known.viability = viability;
  known.ln_emergence = assumed_emergence(species);
  known.ln_vigour = assumed_vigour();
  return known;
}

std::vector<LotKnowledge> known_of(Species species, const std::vector<LotHistory>& lots) {
  const VarietyRecord record(species, lots);
  std::vector<LotKnowledge> known;
  for (std::size_t i = 0; i < lots.size(); ++i) known.push_back(record.of(i));
  return known;
}

}  // namespace takehold::client
