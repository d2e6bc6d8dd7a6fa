// A trial as a picture: what the probes told, the band, and what the watch said of it.
#pragma once

#include <ostream>
#include <vector>

#include "score.hpp"

namespace takehold::bench {

/// SVG of an hour before the onset to an hour after the breach (or three after the onset).
void draw(const Trial& trial, const std::vector<Said>& said, std::ostream& out);

}  // namespace takehold::bench
