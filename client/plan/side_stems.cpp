// With X the heat since sowing and x' that at emergence, exp(-k v (X - x')) is one number a lot and
// day times one number a seed, and ln D = ln A + ln(D0/A) * that + ln s_i. So a stem costs one
// multiplication a day and one exponential where it can be graftable at all.
#include "client/plan/side_stems.hpp"

#include <algorithm>
#include <bit>
#include <cmath>
#include <numeric>

namespace takehold::client {
namespace {

constexpr double kRoundingMm = 0.0005;  // whole micrometres: half of one on either side

// What one sowing's stems have in common on one day.
struct DayOfSowing {
  float shrink;   // exp(-k v X)
  float most_up;  // heat factors above this have not had the heat to be graftable
};

// A number in the upper half and a stem's place below: ordered as the numbers are.
using OrderKey = std::uint64_t;

OrderKey order_key(float number, std::uint32_t place) {
  const auto bits = std::bit_cast<std::uint32_t>(number);
  const std::uint32_t ordered = (bits >> 31) != 0 ? ~bits : bits | 0x80000000U;
  return static_cast<OrderKey>(ordered) << 32 | place;
}

float number_of(OrderKey key) {
  const auto ordered = static_cast<std::uint32_t>(key >> 32);
  return std::bit_cast<float>((ordered >> 31) != 0 ? ordered ^ 0x80000000U : ~ordered);
}

/// exp(x) for x within 4 of 0, off by less than 3e-7 of it: its series around the nearest power of
/// two. The same on every machine, where the C library's follows the processor; and in place.
float exp_of(float x) {
  constexpr float kRounds = 12582912;  // 1.5 * 2^23: what is added to it loses its fraction
  constexpr float kLn2 = 0.693147181F, kOfLn2 = 1.44269504F;
  const float powers = (x * kOfLn2 + kRounds) - kRounds;
  const float f = x - powers * kLn2, f2 = f * f;
  const float series = (1 + f) + f2 * ((1 / 2.F + f * (1 / 6.F)) +
                                       f2 * ((1 / 24.F + f * (1 / 120.F)) + f2 * (1 / 720.F)));
  return series * std::bit_cast<float>((static_cast<std::int32_t>(powers) + 127) << 23);
}

OrderKey ln_key(double mm) {
  return order_key(static_cast<float>(std::log(mm)), 0);
}

class Grower {
 public:
  Grower(std::span<const SideSowing> sowings, std::span<const int> shifts, bool all_graftable)
      : sowings_(sowings), all_graftable_(all_graftable) {
    for (const SideSowing& sowing : sowings) {
      auto& heat = heat_.emplace_back();
      for (const int shift : shifts) {
        const Age age(sowing.days_to_graft + shift);
        heat.push_back(sowing.course->heat_between(Age(0), age).degc_days());
      }
    }
  }

  void begin(int season) {
    season_ = season;
    stems_.clear();
    part_.clear();
    for (std::size_t part = 0; part < sowings_.size(); ++part) {
      sowings_[part].draws->add_in(season, sowings_[part].seeds, stems_);
      part_.resize(stems_.size(), static_cast<std::uint32_t>(part));
    }
    order_.resize(stems_.size());
    std::iota(order_.begin(), order_.end(), OrderKey{0});
    is_first_day_ = true;
  }

  // Appends the stems of a day, thinnest first. Days in order leave them nearly sorted from the day
  // before.
  void grow(std::size_t day, std::vector<StemKey>& into) {
    DayOfSowing days[StemKey::kMostSowings];
    for (std::size_t part = 0; part < sowings_.size(); ++part) days[part] = of_sowing(part, day);
    is_first_day_ ? sort_anew(days) : sort_again(days);
    is_first_day_ = false;
    const std::size_t before = into.size();
    into.resize(before + order_.size());
    StemKey* const begin = into.data() + before;
    StemKey* end = begin;
    for (const OrderKey* key = first_graftable(); key != order_.data() + order_.size(); ++key) {
      const auto stem = static_cast<std::uint32_t>(*key);
      if (!all_graftable_) {
        if (*key >= thickest_) break;
        if (stems_[stem].heat_factor > days[part_[stem]].most_up) continue;
      }
      // Equal but for rounding may still stand in the wrong order.
      const StemKey grown = key_of(*key);
      StemKey* place = end++;
      for (; place > begin && grown < place[-1]; --place) *place = place[-1];
      *place = grown;
    }
    into.resize(before + static_cast<std::size_t>(end - begin));
  }

 private:
  DayOfSowing of_sowing(std::size_t part, std::size_t day) const {
    const double vigour = (*sowings_[part].luck)[static_cast<std::size_t>(season_)].vigour;
    const double rate = growth_.rate_per_degc_day * vigour;
    const double heat = heat_[part][day];
    return {static_cast<float>(std::exp(-rate * heat)),
            static_cast<float>(std::exp(rate * (heat - limits_.heat.degc_days())))};
  }

  OrderKey thicken(std::uint32_t stem, const DayOfSowing* days) {
    const DrawnSeed& seed = stems_[stem];
    const float left = std::min(1.0F, days[part_[stem]].shrink * seed.heat_factor);  // 1: not up
    return order_key(ln_asymptote_ + ln_begin_ * left + seed.ln_size, stem);
  }

  void sort_anew(const DayOfSowing* days) {
    for (OrderKey& key : order_) key = thicken(static_cast<std::uint32_t>(key), days);
    std::sort(order_.begin(), order_.end());
  }

  void sort_again(const DayOfSowing* days) {
    for (std::size_t i = 0; i < order_.size(); ++i) {
      const OrderKey key = thicken(static_cast<std::uint32_t>(order_[i]), days);
      std::size_t place = i;
      for (; place > 0 && key < order_[place - 1]; --place) order_[place] = order_[place - 1];
      order_[place] = key;
    }
  }

  const OrderKey* first_graftable() const {
    if (all_graftable_) return order_.data();
    return std::lower_bound(order_.data(), order_.data() + order_.size(), thinnest_);
  }

  StemKey key_of(OrderKey key) const {
    const auto stem = static_cast<std::uint32_t>(key);
    const float um = 1000.0F * exp_of(number_of(key)) + 0.5F;
    const auto most = static_cast<float>(StemKey::kWidest);
    return {static_cast<std::uint32_t>(std::min(um, most)), part_[stem], stems_[stem].number};
  }

  std::span<const SideSowing> sowings_;
  bool all_graftable_;
  std::vector<std::vector<double>> heat_{};  // since sowing, degC·d, by part and day
  StemGrowth growth_{};
  Graftable limits_{};
  float ln_asymptote_ = static_cast<float>(std::log(growth_.asymptote.mm()));
  float ln_begin_ = static_cast<float>(std::log(growth_.at_emergence / growth_.asymptote));
  OrderKey thinnest_ = ln_key(limits_.thinnest.mm() - kRoundingMm);
  OrderKey thickest_ = ln_key(limits_.thickest.mm() + kRoundingMm);
  int season_ = 0;
  bool is_first_day_ = true;
  std::vector<DrawnSeed> stems_{};
  std::vector<std::uint32_t> part_{};  // by stem
  std::vector<OrderKey> order_{};      // of the day before, thinnest first
};

}  // namespace

SideStems::SideStems(std::span<const SideSowing> sowings, std::span<const int> shifts,
                     SeasonRange seasons, bool all_graftable)
    : first_(seasons.first),
      days_(shifts.size()),
      places_(static_cast<std::size_t>(seasons.end - seasons.first) * shifts.size()) {
  // In the order of time a day's stems are nearly sorted by the day before.
  std::vector<std::size_t> order(days_);
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::sort(order.begin(), order.end(),
            [&](std::size_t a, std::size_t b) { return shifts[a] < shifts[b]; });
  Grower grower(sowings, shifts, all_graftable);
  for (int season = seasons.first; season < seasons.end; ++season) {
    grower.begin(season);
    for (const std::size_t day : order) {
      Place& place = places_[static_cast<std::size_t>(season - first_) * days_ + day];
      place.begin = static_cast<std::uint32_t>(stems_.size());
      grower.grow(day, stems_);
      place.count = static_cast<std::uint32_t>(stems_.size()) - place.begin;
    }
  }
}

}  // namespace takehold::client
