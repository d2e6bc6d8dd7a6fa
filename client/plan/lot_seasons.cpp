#include "client/plan/lot_seasons.hpp"

#include <cmath>

#include "client/growth/emergence.hpp"
#include "client/growth/keyed_random.hpp"
#include "client/growth/stem.hpp"
#include "client/plan/draw_purpose.hpp"
#include "client/plan/share_quantile.hpp"

namespace takehold::client {

std::uint64_t luck_key(std::string_view name) {
  std::uint64_t hash = 0xCBF29CE484222325u;
  for (const char c : name) hash = (hash ^ static_cast<unsigned char>(c)) * 0x100000001B3u;
  return hash;
}

std::vector<LotLuck> draw_lot(const LotBelief& belief, std::uint64_t seed, int seasons) {
  const KeyedRandom random(seed);
  const EmergenceBelief speed = emergence_prior(belief.species);
  const ShareQuantile viability(belief.viability);
  std::vector<LotLuck> drawn;
  drawn.reserve(static_cast<std::size_t>(seasons));
  for (int i = 0; i < seasons; ++i) {
    const auto season = static_cast<std::uint64_t>(i);
    const auto normal = [&](DrawPurpose purpose) {
      return random.normal({static_cast<std::uint64_t>(purpose), season, belief.key});
    };
    drawn.push_back(
        {viability.at(normal(DrawPurpose::viability)),
         speed.multiplier * std::exp(speed.multiplier_sd * normal(DrawPurpose::emergence)),
         std::exp(kVigourSd * normal(DrawPurpose::vigour))});
  }
  return drawn;
}

}  // namespace takehold::client
