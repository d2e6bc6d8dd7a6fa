// measure --suggest: which sowings are worth the calliper today.
#pragma once

#include "client/command/context.hpp"

namespace takehold::client {

/// Prints how many stems of which sowing to measure; `most` in all. Records nothing. Codes as
/// forecast: "no-season"; "nothing-sown" where no tray is for a graft.
void suggest_measuring(Context& context, int most);

}  // namespace takehold::client
