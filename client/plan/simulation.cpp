#include "client/plan/simulation.hpp"

#include <algorithm>
#include <boost/math/special_functions/beta.hpp>
#include <cmath>

#include "client/growth/keyed_random.hpp"
#include "client/match/matching.hpp"

namespace takehold::client {
namespace {

// What a random number is for: the first part of its key. Never renumbered, or plans would change.
enum Purpose : std::uint64_t {
  kViability = 1,
  kEmergence = 2,
  kVigour = 3,
  kSeedLives = 4,
  kSeedSpeed = 5,
  kSeedlingSize = 6,
  kTakeRate = 7,
  kGraftTakes = 8,
};

using InDoubles = boost::math::policies::policy<boost::math::policies::promote_double<false>>;

double share_drawn(Chance belief, double uniform) {
  return boost::math::ibeta_inv(belief.a, belief.b, uniform, InDoubles());
}

// A seed that lives: when it comes up and how its stem differs.
struct Plant {
  int days_to_graft;
  std::optional<Age> up;
  double size;  // s_i
};

struct LotDraw {
  double vigour = 1;
  std::vector<Plant> plants{};
};

class Simulation {
 public:
  Simulation(const SimulationRequest& request, const Course& course)
      : request_(request), course_(course), random_(request.seed) {}

  int matched(std::uint64_t season) const {
    const LotDraw rootstock = draw(request_.rootstock, season);
    const LotDraw scion = draw(request_.scion, season);
    std::size_t best = 0;
    for (int shift = -request_.window_days; shift <= request_.window_days; ++shift) {
      best = std::max(
          best, count_matches(stems(rootstock, shift), stems(scion, shift), request_.tolerance));
    }
    return static_cast<int>(best);
  }

  int taken(std::uint64_t season, int grafts) const {
    const double rate = share_drawn(request_.take, random_.uniform({kTakeRate, season}));
    int taken = 0;
    for (int graft = 0; graft < grafts; ++graft) {
      const auto number = static_cast<std::uint64_t>(graft);
      taken += random_.uniform({kGraftTakes, season, number}) < rate ? 1 : 0;
    }
    return taken;
  }

 private:
  LotDraw draw(const SimulatedSide& side, std::uint64_t season) const {
    const std::uint64_t lot = side.lot_key;
    const EmergenceBelief belief = emergence_prior(side.species);
    const double alive = share_drawn(side.viability, random_.uniform({kViability, season, lot}));
    const double slow = belief.multiplier *
                        std::exp(belief.multiplier_sd * random_.normal({kEmergence, season, lot}));
    LotDraw drawn;
    drawn.vigour = std::exp(kVigourSd * random_.normal({kVigour, season, lot}));
    for (std::uint64_t wave = 0; wave < side.waves.size(); ++wave) {
      const auto seeds = static_cast<std::uint64_t>(std::max(0, side.waves[wave].seeds));
      for (std::uint64_t seed = 0; seed < seeds; ++seed) {
        if (random_.uniform({kSeedLives, season, lot, wave, seed}) >= alive) continue;
        const double z =
            std::exp(belief.seed_spread * random_.normal({kSeedSpeed, season, lot, wave, seed}));
        const double size =
            std::exp(kSeedlingSd * random_.normal({kSeedlingSize, season, lot, wave, seed}));
        drawn.plants.push_back(
            {side.waves[wave].days_to_graft, course_.age_at_progress(slow * z), size});
      }
    }
    return drawn;
  }

  // Diameters of the graftable stems so many days after the planned graft day, sorted.
  std::vector<Micrometres> stems(const LotDraw& lot, int shift) const {
    std::vector<Micrometres> found;
    for (const Plant& plant : lot.plants) {
      const Age age(plant.days_to_graft + shift);
      const bool is_up = plant.up && *plant.up <= age;
      if (!is_up && request_.size_limits) continue;
      const auto heat =
          is_up ? course_.heat_between(*plant.up, age) : sensors::ThermalTime::degc_days(0);
      const auto diameter = StemGrowth{}.diameter(heat, lot.vigour) * plant.size;
      if (request_.size_limits && !Graftable{}.holds(heat, diameter)) continue;
      found.push_back(diameter.um());
    }
    std::sort(found.begin(), found.end());
    return found;
  }

  const SimulationRequest& request_;
  const Course& course_;
  KeyedRandom random_;
};

}  // namespace

SimulationResult simulate(const SimulationRequest& request, const Course& course) {
  const Simulation simulation(request, course);
  SimulationResult result;
  int reached = 0;
  for (int season = 0; season < request.seasons; ++season) {
    const auto key = static_cast<std::uint64_t>(season);
    const int matched = simulation.matched(key);
    const int finished = simulation.taken(key, std::min(matched, request.grafts));
    result.matched.push_back(matched);
    result.finished.push_back(finished);
    reached += finished >= request.want ? 1 : 0;
  }
  const double n = std::max(1, request.seasons);
  result.probability = reached / n;
  result.standard_error = std::sqrt(result.probability * (1 - result.probability) / n);
  return result;
}

}  // namespace takehold::client
