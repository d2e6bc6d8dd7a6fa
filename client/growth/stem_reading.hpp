// How calliper readings bear on one seedling: the error of a reading, and readings that are wrong.
#pragma once

#include <array>

#include "client/growth/lot_record.hpp"
#include "client/growth/stem.hpp"

namespace takehold::client {

inline constexpr sensors::Millimetres kCalliperError =
    sensors::Millimetres::mm(0.05);            ///< sd of one reading (assumed)
inline constexpr double kWrongShare = 0.05;    ///< readings that say nothing of the stem (assumed)
inline constexpr double kScatterSpread = 0.3;  ///< sd of ln(kSeedlingSd): what is not known of it

/// What is believed of ln s, by how much a seedling is thicker than its lot at its age.
struct SizeBelief {
  double likelihood = 1;  ///< of the readings so far, as a density of ln D
  double mean = 0;
  double variance = 0;
};

/// Adds one reading where the lot's growth alone gives `ln_expected` (ln of millimetres). Out of
/// the mixture "right, or uniform over the physical range" one normal belief is kept, of the
/// mixture's mean and variance: exact for one reading, and one seedling read twice stays one.
void learn_size(SizeBelief& belief, double ln_reading, double ln_expected);

/// A seedling's own emergence, given that it was up by an age: nodes of equal-area quadrature.
struct UpNode {
  double weight = 0;
  Age up{};
};
inline constexpr int kUpNodes = 15;
using UpNodes = std::array<UpNode, kUpNodes>;

/// Of a seed of a lot with factor exp(ln_e) that is up at `by` at the latest and after `after`.
UpNodes nodes_up(const Course& course, double ln_e, double spread, Age by);

/// When the seed comes up whose z is the quantile `part` (between 0 and 1) of those that come up
/// after `after` and until `by`; nothing if the course ends first. Without `by`: ever.
std::optional<Age> age_up(const Course& course, double ln_e, double spread, double part,
                          std::optional<Age> after, std::optional<Age> by);

}  // namespace takehold::client
