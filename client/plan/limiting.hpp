// What keeps a pairing from a higher probability.
#pragma once

#include "client/plan/pairing_draft.hpp"

namespace takehold::client {

/// Makes each stage perfect in turn, in the same simulated seasons: every seed comes up; every stem
/// is graftable; any mismatch is joined; every graft takes. The stage that raises the probability
/// of `draft.listed` most; nothing where none does by more than a thousandth; `seed` where fewer
/// seeds are listed than needed. A pooled pairing is judged by what it would need alone.
std::optional<LimitedBy> limiting_stage(const PlanBasis& basis, const PairDraft& draft);

}  // namespace takehold::client
