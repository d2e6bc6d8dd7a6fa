#include "client/plan/lot_seasons.hpp"

#include <cmath>

#include "client/growth/keyed_random.hpp"
#include "client/plan/draw_purpose.hpp"
#include "client/plan/share_quantile.hpp"
#include "client/season/normal.hpp"

namespace takehold::client {

std::uint64_t luck_key(std::string_view name) {
  std::uint64_t hash = 0xCBF29CE484222325u;
  for (const char c : name) hash = (hash ^ static_cast<unsigned char>(c)) * 0x100000001B3u;
  return hash;
}

LotSpeed LotBelief::middle_speed() const {
  if (!known.posterior) return {std::exp(known.ln_emergence.mean), std::exp(known.ln_vigour.mean)};
  return {std::exp(known.posterior->ln_emergence().mean()),
          std::exp(known.posterior->ln_vigour().mean())};
}

std::vector<LotLuck> draw_lot(const LotBelief& belief, std::uint64_t seed, int seasons) {
  const KeyedRandom random(seed);
  const LotKnowledge& known = belief.known;
  const ShareQuantile viability(known.viability);
  std::vector<LotLuck> drawn;
  drawn.reserve(static_cast<std::size_t>(seasons));
  for (int i = 0; i < seasons; ++i) {
    const auto uniform = [&](DrawPurpose purpose) {
      return random.uniform(
          {static_cast<std::uint64_t>(purpose), static_cast<std::uint64_t>(i), belief.key});
    };
    if (known.posterior) {
      const LotDraw draw = known.posterior->draw(
          {uniform(DrawPurpose::emergence), uniform(DrawPurpose::within_emergence),
           uniform(DrawPurpose::vigour), uniform(DrawPurpose::scatter),
           uniform(DrawPurpose::viability)});
      drawn.push_back(
          {draw.viability, std::exp(draw.ln_emergence), std::exp(draw.ln_vigour), draw.scatter});
      continue;
    }
    const auto speed = [&](LogBelief ln, DrawPurpose purpose) {
      return std::exp(ln.mean + ln.sd * normal_quantile(uniform(purpose)));
    };
    drawn.push_back({viability.at(normal_quantile(uniform(DrawPurpose::viability))),
                     speed(known.ln_emergence, DrawPurpose::emergence),
                     speed(known.ln_vigour, DrawPurpose::vigour)});
  }
  return drawn;
}

}  // namespace takehold::client
