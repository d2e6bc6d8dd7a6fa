// A probe as a Modbus unit. Registers, input and holding alike, numbered as on the wire:
//   1 temperature (tenths of a degC, signed)     2 humidity (tenths of a percent)
//   3 leaf temperature (as 1)     4 carbon dioxide (ppm)     5 light (µmol m-2 s-1)
//   6-7 temperature, 8-9 humidity: floats of 32 bits, the high word first
#pragma once

#include <cstdint>
#include <optional>
#include <span>

#include "sensors/codec/decoded.hpp"
#include "sensors/codec/modbus_frame.hpp"

namespace takehold::sensors {

/// The answer to one frame, or none: a frame for another unit, with a wrong sum, cut short, or a
/// probe that says nothing. A good frame with a wish it cannot fulfil is refused as the standard
/// has it: 1 another function, 2 another register, 3 a count that is not 1 to 125.
std::optional<Bytes> answer_frame(std::uint8_t unit, std::span<const std::uint8_t> frame,
                                  const std::optional<Decoded>& says);

}  // namespace takehold::sensors
