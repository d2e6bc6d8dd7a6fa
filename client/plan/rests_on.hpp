// What a plan rests on, number by number: the grower's own record, the sheet, print, or our choice.
#pragma once

#include <vector>

#include "client/plan/pairing_draft.hpp"

namespace takehold::client {

/// Of every lot that is sown from: viability, emergence and vigour (factors on the table's days and
/// on the growth of an average lot), price; of every pairing the share that takes; of all: the
/// bench, prices, and the constants of growth and fit. `box` after everything was taken out of it.
std::vector<PlanNumber> numbers_under(const PlanBasis& basis, const SeedBox& box);

}  // namespace takehold::client
