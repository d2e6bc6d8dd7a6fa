#include "client/growth/viability.hpp"

#include <algorithm>
#include <cmath>

namespace takehold::client {
namespace {

constexpr double kWorth = 20;  // seeds
constexpr int kSeedLife = 4;   // years: Knott's Handbook (from memory)
constexpr double kYearInLife = 0.97;
constexpr double kYearBeyond = 0.85;

// Of kWorth seeds.
double fresh_sprouting(Origin origin) {
  switch (origin) {
    case Origin::bought:
      return 17;
    case Origin::fermented:
      return 16;
    case Origin::paper:
      break;
  }
  return 14;
}

}  // namespace

Chance viability_prior(Origin origin, int age_years) {
  const int age = std::max(0, age_years);
  const double a = fresh_sprouting(origin) * std::pow(kYearInLife, std::min(age, kSeedLife)) *
                   std::pow(kYearBeyond, std::max(0, age - kSeedLife));
  return {a, kWorth - a};
}

}  // namespace takehold::client
