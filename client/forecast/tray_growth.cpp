#include "client/forecast/tray_growth.hpp"

#include <cmath>

namespace takehold::client {
namespace {

// Parts of 1 that fill it evenly however many there are: multiples of the golden section.
constexpr double kGolden = 0.6180339887498949;

double share_of(std::size_t seedling) {
  const double turns = (static_cast<double>(seedling) + 0.5) * kGolden;
  return turns - std::floor(turns);
}

}  // namespace

TrayGrowth::TrayGrowth(const DrawnTrays& drawn, std::size_t tray, const Course& course, Age age,
                       int days)
    : drawn_(drawn), tray_(tray) {
  for (int day = 0; day < days; ++day) {
    const Age then = age + Age(day);
    heat_.push_back(then.count() < 0 ? -1 : course.heat_between(Age(0), then).degc_days());
  }
  for (int season = 0; season < drawn.seasons(); ++season) {
    const auto seedlings = drawn.in(season, tray);
    for (std::size_t i = 0; i < seedlings.size(); ++i) {
      const auto up = course.age_at_progress(seedlings[i].progress);
      if (!up) continue;
      const double heat = course.heat_between(Age(0), *up).degc_days();
      grown_.push_back({static_cast<float>(heat), static_cast<float>(seedlings[i].ln_size),
                        static_cast<float>(share_of(i))});
    }
    begins_.push_back(grown_.size());
  }
}

void TrayGrowth::stems_on(int season, int day, const TrayShare& share,
                          std::vector<DayStem>& into) const {
  static constexpr StemGrowth kGrowth{};
  static constexpr Graftable kLimits{};
  const double heat = heat_[static_cast<std::size_t>(day)];
  if (heat < kLimits.heat.degc_days()) return;
  const double vigour = drawn_.vigour(season, tray_);
  const auto at = static_cast<std::size_t>(season);
  for (std::size_t i = begins_[at]; i < begins_[at + 1]; ++i) {
    const Grown& seedling = grown_[i];
    if (seedling.place < share.from || seedling.place >= share.to) continue;
    const auto since = sensors::ThermalTime::degc_days(heat - seedling.heat_before);
    if (since < kLimits.heat) continue;
    const auto stem = sensors::Millimetres::mm(
        std::exp(kGrowth.ln_mm(since, vigour) + static_cast<double>(seedling.ln_size)));
    if (!kLimits.holds(since, stem)) continue;
    const std::size_t who = tray_ << 16 | (i - begins_[at]);
    into.push_back({static_cast<std::uint16_t>(stem.um()), static_cast<std::uint32_t>(who)});
  }
}

}  // namespace takehold::client
