// A probe as a Modbus unit: input and holding registers 1 (tenths of a degC, signed) and
// 2 (tenths of a percent), numbered as on the wire.
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
