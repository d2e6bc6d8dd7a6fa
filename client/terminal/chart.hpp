// A small chart in characters: how something went, with the band it should have kept.
#pragma once

#include <optional>
#include <span>
#include <string>

#include "client/terminal/style.hpp"

namespace takehold::client {

struct ChartOptions {
  int width = 60;    ///< columns of the plot itself, scale not counted
  int height = 8;    ///< rows
  int decimals = 0;  ///< a difference smaller than one of the last is not drawn steep
  std::optional<double> band_low, band_high;  ///< the field between them is dotted
  double band_from = 0;                       ///< share of the width before which no band is drawn
  std::string left_end, right_end;            ///< what stands under the two ends, as times
};

/// Lines ending in '\n': the scale at the left, a line that rises and falls in quarters of a row
/// (in ASCII: whole rows). Values stand at equal distances in time; a missing one is left blank,
/// never bridged. More values than columns are averaged column by column. No value at all: "".
std::string chart_text(std::span<const std::optional<double>> values, const ChartOptions& options,
                       const TerminalStyle& style);

}  // namespace takehold::client
