#include "client/growth/seedling_draws.hpp"

#include <algorithm>
#include <cmath>

#include "client/growth/emergence.hpp"
#include "client/growth/stem_reading.hpp"
#include "client/season/normal.hpp"

namespace takehold::client {
namespace {

constexpr double kEdge = 1e-12;  // quantiles stay finite

// One measured seedling at one possible time of emergence.
struct Guess {
  double weight;
  Age up;
  SizeBelief size;
};

Guess guess_of(const SeedlingSeen& seedling, const Course& course, double vigour, double scatter,
               const UpNode& node) {
  Guess guess{0, node.up, {1, 0, scatter * scatter}};
  for (const StemSeen& reading : seedling.readings) {
    const auto heat = course.heat_between(node.up, reading.at);
    learn_size(guess.size, std::log(reading.diameter.mm()), StemGrowth{}.ln_mm(heat, vigour));
  }
  guess.weight = node.weight * guess.size.likelihood;
  return guess;
}

const Guess& picked(const std::array<Guess, kUpNodes>& guesses, double uniform) {
  double total = 0;
  for (const Guess& guess : guesses) total += guess.weight;
  double left = uniform * total;
  for (const Guess& guess : guesses) {
    left -= guess.weight;
    if (left <= 0) return guess;
  }
  return guesses.back();
}

}  // namespace

SeedlingDraws::SeedlingDraws(const SowingSeen& sowing, Species species, TrayState state)
    : sowing_(sowing), spread_(emergence_prior(species).seed_spread), standing_(state.standing) {
  for (const SeedlingSeen& seedling : sowing.seedlings) {
    const bool gone =
        std::find(state.gone.begin(), state.gone.end(), seedling.number) != state.gone.end();
    if (!gone && !seedling.readings.empty()) measured_.push_back(&seedling);
  }
}

double SeedlingDraws::share_up(const LotDraw& lot, std::optional<Age> at) const {
  const double progress = at ? sowing_.course->progress_at(*at) : 0;
  return progress <= 0 ? 0 : normal_below((std::log(progress) - lot.ln_emergence) / spread_);
}

// A seed whose z lies between two shares of its lot.
DrawnSeedling SeedlingDraws::seedling(const LotDraw& lot, double from, double to,
                                      Dice& dice) const {
  const double level = std::clamp(from + dice.uniform() * (to - from), kEdge, 1 - kEdge);
  const double ln_progress = lot.ln_emergence + spread_ * normal_quantile(level);
  return {std::exp(ln_progress), lot.scatter * dice.normal()};
}

void SeedlingDraws::draw_measured(const LotDraw& lot, int most, Dice& dice,
                                  std::vector<DrawnSeedling>& into) const {
  const double vigour = std::exp(lot.ln_vigour);
  std::optional<Age> prepared;
  UpNodes nodes{};
  int left = static_cast<int>(measured_.size());
  for (const SeedlingSeen* seen : measured_) {
    // Which of them are missing is not known: each may be.
    const bool stands = dice.uniform() * left-- < most;
    const double pick = dice.uniform(), size = dice.normal();
    if (!stands) continue;
    --most;
    if (prepared != seen->readings.front().at) {
      prepared = seen->readings.front().at;
      nodes = nodes_up(*sowing_.course, lot.ln_emergence, spread_, *prepared);
    }
    std::array<Guess, kUpNodes> guesses{};
    std::transform(nodes.begin(), nodes.end(), guesses.begin(), [&](const UpNode& node) {
      return guess_of(*seen, *sowing_.course, vigour, lot.scatter, node);
    });
    const Guess& guess = picked(guesses, pick);
    into.push_back({sowing_.course->progress_at(guess.up),
                    guess.size.mean + std::sqrt(guess.size.variance) * size});
  }
}

// Plants that were counted, not measured, take places evenly among all that were counted.
void SeedlingDraws::draw_counted(const LotDraw& lot, int plants, Dice& dice,
                                 std::vector<DrawnSeedling>& into) const {
  const double all = sowing_.counts.back().up;
  const double first = dice.uniform();
  for (int i = 0; i < plants; ++i) {
    const double place = (i + first) / plants * all;
    std::size_t count = 0;
    while (count + 1 < sowing_.counts.size() && sowing_.counts[count].up <= place) ++count;
    const auto before = count == 0 ? std::nullopt : std::optional(sowing_.counts[count - 1].at);
    into.push_back(
        seedling(lot, share_up(lot, before), share_up(lot, sowing_.counts[count].at), dice));
  }
}

void SeedlingDraws::draw_to_come(const LotDraw& lot, int seeds, Dice& dice,
                                 std::vector<DrawnSeedling>& into) const {
  const auto last = sowing_.counts.empty() ? std::nullopt : std::optional(sowing_.counts.back().at);
  const double up = share_up(lot, last);
  const double chance = lot.viability * (1 - up) / std::max(kEdge, 1 - lot.viability * up);
  for (int i = 0; i < seeds; ++i) {
    if (dice.uniform() < chance) into.push_back(seedling(lot, up, 1, dice));
  }
}

void SeedlingDraws::draw(const LotDraw& lot, const RandomStream& random,
                         std::vector<DrawnSeedling>& into) const {
  Dice dice{random};
  const int measured = static_cast<int>(measured_.size());
  const int read = static_cast<int>(sowing_.seedlings.size());
  if (sowing_.counts.empty()) {  // those that were read are up, of the others nothing is known
    draw_measured(lot, measured, dice, into);
    return draw_to_come(lot, sowing_.seeds - read, dice, into);
  }
  const int up = sowing_.counts.back().up;
  const int standing = standing_.value_or(up);
  draw_measured(lot, standing, dice, into);
  if (up > 0) draw_counted(lot, std::max(0, standing - measured), dice, into);
  draw_to_come(lot, sowing_.seeds - std::max(up, read), dice, into);
}

}  // namespace takehold::client
