// A small chart in characters: how something went, with the band it should have kept.
#pragma once

#include <optional>
#include <span>
#include <string>

#include "client/terminal/style.hpp"

namespace takehold::client {

struct ChartOptions {
  int width = 60;                             ///< columns of the plot itself, scale not counted
  int height = 8;                             ///< rows
  int decimals = 0;                           ///< of the scale's figures
  std::optional<double> band_low, band_high;  ///< drawn as dotted lines where they fall
  std::string left_end, right_end;            ///< what stands under the two ends, as times
};

/// Lines ending in '\n'. Values stand at equal distances in time; a missing one is left blank,
/// never bridged. More values than columns are averaged column by column. No value at all: "".
std::string chart_text(std::span<const std::optional<double>> values, const ChartOptions& options,
                       const TerminalStyle& style);

}  // namespace takehold::client
