#include "client/plan/sowing_draws.hpp"

#include <cmath>
#include <optional>

#include "client/growth/emergence.hpp"
#include "client/growth/keyed_random.hpp"
#include "client/growth/stem.hpp"
#include "client/plan/draw_purpose.hpp"

namespace takehold::client {
namespace {

// The heat from sowing to emergence by the progress needed, in steps of 1/512 of the table's days:
// between two of them, some twenty minutes, it runs straight to 0.01 degC·d.
class EmergenceHeat {
 public:
  explicit EmergenceHeat(const Course& course) : course_(course) {
    for (int i = 0; i <= kMost * kSteps; ++i) {
      const auto heat = exact(static_cast<double>(i) / kSteps);
      if (!heat) break;
      heat_.push_back(*heat);
    }
  }

  // Nothing if the course ends before.
  std::optional<double> at(double need) const {
    const double place = need * kSteps;
    const auto left = static_cast<std::size_t>(place);
    if (left + 1 >= heat_.size()) return exact(need);
    const double part = place - static_cast<double>(left);
    return heat_[left] + part * (heat_[left + 1] - heat_[left]);
  }

 private:
  static constexpr int kSteps = 512, kMost = 8;

  std::optional<double> exact(double need) const {
    const auto up = course_.age_at_progress(need);
    if (!up) return std::nullopt;
    return course_.heat_between(Age(0), *up).degc_days();
  }

  const Course& course_;
  std::vector<double> heat_;
};

class Sower {
 public:
  Sower(const LotBelief& lot, std::uint64_t wave, const Course& course, std::uint64_t seed)
      : lot_(lot), wave_(wave), heat_(course), random_(seed) {}

  void sow(std::uint64_t season, const LotLuck& luck, int seeds, bool every_seed,
           std::vector<DrawnSeed>& into) const {
    const auto lives = stream(DrawPurpose::seed_lives, season);
    const auto speed = stream(DrawPurpose::seed_speed, season);
    const auto size = stream(DrawPurpose::seedling_size, season);
    const double growth = StemGrowth{}.rate_per_degc_day * luck.vigour;
    for (int number = 0; number < seeds; ++number) {
      const auto key = static_cast<std::uint64_t>(number);
      if (!every_seed && lives.uniform(key) >= luck.viability) continue;
      const double need = luck.emergence * std::exp(spread_ * speed.normal(key));
      const auto heat = heat_.at(need);
      if (!heat) continue;
      into.push_back({std::exp(static_cast<float>(growth * *heat)),
                      static_cast<float>(luck.scatter * size.normal(key)),
                      static_cast<std::uint32_t>(number)});
    }
  }

 private:
  RandomStream stream(DrawPurpose purpose, std::uint64_t season) const {
    return random_.stream({static_cast<std::uint64_t>(purpose), season, lot_.key, wave_});
  }

  const LotBelief& lot_;
  std::uint64_t wave_;
  EmergenceHeat heat_;
  KeyedRandom random_;
  double spread_ = emergence_prior(lot_.species).seed_spread;
};

}  // namespace

SowingDraws::SowingDraws(const LotBelief& lot, std::span<const LotLuck> luck, std::uint64_t wave,
                         int seeds, bool every_seed, const Course& course, std::uint64_t seed)
    : seeds_(seeds), begins_{0} {
  const Sower sower(lot, wave, course, seed);
  drawn_.reserve(luck.size() * static_cast<std::size_t>(seeds));
  for (std::size_t season = 0; season < luck.size(); ++season) {
    sower.sow(season, luck[season], seeds, every_seed, drawn_);
    begins_.push_back(drawn_.size());
  }
}

std::span<const DrawnSeed> SowingDraws::in(int season) const {
  const auto at = static_cast<std::size_t>(season);
  return {drawn_.data() + begins_[at], begins_[at + 1] - begins_[at]};
}

}  // namespace takehold::client
