// How old rootstock and scion should be on the day of the graft.
#pragma once

#include <functional>
#include <optional>

#include "client/growth/stem.hpp"

namespace takehold::client {

/// Whole days from sowing to graft, and the middle seedlings then.
struct GraftAges {
  int rootstock_days;
  int scion_days;
  Seedling rootstock;
  Seedling scion;
};

/// The clip that average stems are steered to: the middle of the published sizes.
inline constexpr sensors::Millimetres kAimedDiameter = sensors::Millimetres::mm(2.0);

/// The two ages, among those `may_sow` allows, at which both middle seedlings are graftable and
/// their diameters nearest to equal and, ten times less important, nearest to kAimedDiameter; among
/// equals the younger. Nothing if no ages within the course do.
std::optional<GraftAges> choose_ages(const Course& course, const LotSpeed& rootstock,
                                     const LotSpeed& scion,
                                     const std::function<bool(int days)>& may_sow);

}  // namespace takehold::client
