// Pickings told at the scales, line after line.
#pragma once

#include <string>
#include <vector>

#include "client/command/recording.hpp"
#include "client/season/crop.hpp"

namespace takehold::client {

/// A line each for what was picked from: "G3: 2.10 kg, 25 fruits, 2 pickings".
std::string harvest_text(const std::vector<Harvest>& records, Units units);

/// Asks for weights, of `from` first if that is given. Every line is recorded at once, and `u`
/// takes back the last.
void harvest_session(Context& context, const Telling& telling, std::string from);

}  // namespace takehold::client
