// With X the heat since sowing and x' that at emergence, exp(-k v (X - x')) is one number a lot and
// day times one number a seed, and ln D = ln A + ln(D0/A) * that + ln s_i. So a stem costs one
// multiplication a day and one exponential where it can be graftable at all.
#include "client/plan/side_stems.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <utility>

namespace takehold::client {
namespace {

constexpr double kRoundingMm = 0.0005;  // whole micrometres: half of one on either side

// What one sowing's stems have in common on one day.
struct DayOfSowing {
  float shrink;   // exp(-k v X)
  float most_up;  // heat factors above this have not had the heat to be graftable
};

class Grower {
 public:
  Grower(std::span<const SideSowing> sowings, bool all_graftable)
      : sowings_(sowings), all_graftable_(all_graftable) {}

  void begin(int season) {
    season_ = season;
    stems_.clear();
    for (std::size_t part = 0; part < sowings_.size(); ++part) {
      for (const DrawnSeed& seed : sowings_[part].draws->in(season)) {
        stems_.push_back(
            {seed.heat_factor, seed.ln_size, 0, static_cast<std::uint32_t>(part), seed.number});
      }
    }
    is_first_day_ = true;
  }

  // Appends the stems of a day. Days in order leave them nearly sorted from the day before.
  void grow(int shift, std::vector<StemKey>& into) {
    DayOfSowing days[StemKey::kMostSowings];
    for (std::size_t part = 0; part < sowings_.size(); ++part) days[part] = day(part, shift);
    for (Stem& stem : stems_) set(stem, days[stem.part]);
    sort();
    auto stem = stems_.begin();
    if (!all_graftable_) {
      while (stem != stems_.end() && stem->ln_mm < ln_thinnest_) ++stem;
    }
    for (; stem != stems_.end(); ++stem) {
      if (!all_graftable_ && stem->ln_mm >= ln_thickest_) break;
      if (all_graftable_ || stem->heat_factor <= days[stem->part].most_up) {
        into.push_back(key_of(*stem));
      }
    }
  }

 private:
  struct Stem {
    float heat_factor;
    float ln_size;
    float ln_mm;
    std::uint32_t part;
    std::uint32_t number;
  };

  DayOfSowing day(std::size_t part, int shift) const {
    const SideSowing& sowing = sowings_[part];
    const double vigour = (*sowing.luck)[static_cast<std::size_t>(season_)].vigour;
    const Age age(sowing.days_to_graft + shift);
    const double heat = sowing.course->heat_between(Age(0), age).degc_days();
    const double rate = growth_.rate_per_degc_day * vigour;
    return {static_cast<float>(std::exp(-rate * heat)),
            static_cast<float>(std::exp(rate * (heat - limits_.heat.degc_days())))};
  }

  void set(Stem& stem, const DayOfSowing& day) const {
    const float left = std::min(1.0F, day.shrink * stem.heat_factor);  // 1: not up
    stem.ln_mm = ln_asymptote_ + ln_begin_ * left + stem.ln_size;
  }

  static StemKey key_of(const Stem& stem) {
    const float um = 1000.0F * std::exp(stem.ln_mm) + 0.5F;
    const auto most = static_cast<float>(StemKey::kWidest);
    return {static_cast<std::uint32_t>(std::min(um, most)), stem.part, stem.number};
  }

  // Seeds with equal diameters keep no order of their own: counts do not depend on it.
  void sort() {
    if (std::exchange(is_first_day_, false)) {
      std::sort(stems_.begin(), stems_.end(),
                [](const Stem& a, const Stem& b) { return a.ln_mm < b.ln_mm; });
      return;
    }
    for (std::size_t i = 1; i < stems_.size(); ++i) {
      const Stem moved = stems_[i];
      std::size_t place = i;
      for (; place > 0 && moved.ln_mm < stems_[place - 1].ln_mm; --place) {
        stems_[place] = stems_[place - 1];
      }
      stems_[place] = moved;
    }
  }

  std::span<const SideSowing> sowings_;
  bool all_graftable_;
  StemGrowth growth_{};
  Graftable limits_{};
  float ln_asymptote_ = static_cast<float>(std::log(growth_.asymptote.mm()));
  float ln_begin_ = static_cast<float>(std::log(growth_.at_emergence / growth_.asymptote));
  float ln_thinnest_ = static_cast<float>(std::log(limits_.thinnest.mm() - kRoundingMm));
  float ln_thickest_ = static_cast<float>(std::log(limits_.thickest.mm() + kRoundingMm));
  int season_ = 0;
  bool is_first_day_ = true;
  std::vector<Stem> stems_;
};

}  // namespace

SideStems::SideStems(std::span<const SideSowing> sowings, std::span<const int> shifts, int seasons,
                     bool all_graftable)
    : days_(shifts.size()), places_(static_cast<std::size_t>(seasons) * shifts.size()) {
  // In the order of time a day's stems are nearly sorted by the day before.
  std::vector<std::size_t> order(days_);
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::sort(order.begin(), order.end(),
            [&](std::size_t a, std::size_t b) { return shifts[a] < shifts[b]; });
  Grower grower(sowings, all_graftable);
  for (int season = 0; season < seasons; ++season) {
    grower.begin(season);
    for (const std::size_t day : order) {
      Place& place = places_[static_cast<std::size_t>(season) * days_ + day];
      place.begin = static_cast<std::uint32_t>(stems_.size());
      grower.grow(shifts[day], stems_);
      place.count = static_cast<std::uint32_t>(stems_.size()) - place.begin;
    }
  }
}

}  // namespace takehold::client
