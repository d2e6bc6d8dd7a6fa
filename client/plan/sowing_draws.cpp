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
  static constexpr int kSteps = 512, kMost = 3;  // more is needed by one seed in thousands

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

  void sow(std::uint64_t season, const LotLuck& luck, int first, int end, bool every_seed,
           std::vector<DrawnSeed>& into) const {
    const auto lives = stream(DrawPurpose::seed_lives, season);
    const auto speed = stream(DrawPurpose::seed_speed, season);
    const auto size = stream(DrawPurpose::seedling_size, season);
    const double growth = StemGrowth{}.rate_per_degc_day * luck.vigour;
    for (int number = first; number < end; ++number) {
      const auto key = static_cast<std::uint64_t>(number);
      if (!every_seed && lives.uniform(key) >= luck.viability) continue;
      const double need =
          luck.emergence * std::exp(static_cast<float>(spread_ * speed.normal(key)));
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

void SowingDraws::grow_to(int seeds) {
  if (seeds <= seeds_) return;
  const Sower sower(lot_, wave_, *course_, seed_);
  Block block;
  block.drawn.reserve(luck_.size() * static_cast<std::size_t>(seeds - seeds_));
  for (std::size_t season = 0; season < luck_.size(); ++season) {
    sower.sow(season, luck_[season], seeds_, seeds, every_seed_, block.drawn);
    block.begins.push_back(static_cast<std::uint32_t>(block.drawn.size()));
  }
  blocks_.push_back(std::move(block));
  seeds_ = seeds;
}

void SowingDraws::add_in(int season, int seeds, std::vector<DrawnSeed>& into) const {
  const auto at = static_cast<std::size_t>(season);
  for (const Block& block : blocks_) {
    for (std::uint32_t i = block.begins[at]; i < block.begins[at + 1]; ++i) {
      if (block.drawn[i].number >= static_cast<std::uint32_t>(seeds)) return;
      into.push_back(block.drawn[i]);
    }
  }
}

}  // namespace takehold::client
