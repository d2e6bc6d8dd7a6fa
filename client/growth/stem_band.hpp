// How thick a lot's stems are believed to be at each age.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "client/growth/lot_posterior.hpp"

namespace takehold::client {

/// The diameters of a living, emerged seedling: 9 in 10 lie between low and high.
struct StemBand {
  Age age{};
  double up = 0;  ///< share of the living that are up
  sensors::Millimetres low = sensors::Millimetres::mm(0);
  sensors::Millimetres middle = sensors::Millimetres::mm(0);
  sensors::Millimetres high = sensors::Millimetres::mm(0);
};

/// At each age, on that course; ages at which hardly any seedling is up are left out. By so many
/// draws of the lot and one seedling each, the same for every age.
std::vector<StemBand> stem_bands(const LotPosterior& lot, Species species, const Course& course,
                                 std::span<const Age> ages, int draws = 2000);

}  // namespace takehold::client
