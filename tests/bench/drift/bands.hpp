// The bands and chambers that are tried.
#pragma once

#include "trial.hpp"

namespace takehold::bench {

inline constexpr Asked kBands[] = {
    {"90-100", {22, 29}, {90, 100}, {94, 97}, {0.4, 2}},
    {"95-100", {22, 29}, {95, 100}, {97, 98}, {0.3, 1.2}},
    {"venting", {21, 28}, {70, 85}, {75, 80}, {0.5, 2.5}},
};
inline constexpr Maker kMakers[] = {Maker::one_pot, Maker::two_layers, Maker::saw_teeth,
                                    Maker::fogged};
inline constexpr int kFailures = int(Failure::disagrees) + 1;

}  // namespace takehold::bench
