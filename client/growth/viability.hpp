// How much of a seed lot is alive.
#pragma once

#include "client/season/chance.hpp"
#include "client/season/words.hpp"

namespace takehold::client {

/// A lot's viability before any test: assumed by origin near the legal minimum of 75 % for tomato
/// seed, its mean times 0.97 for each year of age to 4 (published seed life) and 0.85 for each year
/// beyond (assumed), worth 20 seeds at any age. Ages below 0 count as 0.
Chance viability_prior(Origin origin, int age_years);

}  // namespace takehold::client
