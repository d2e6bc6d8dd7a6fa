#include "sensors/sim/modbus_unit.hpp"

#include <algorithm>
#include <cmath>

namespace takehold::sensors {
namespace {

constexpr int kFirstRegister = 1;
constexpr int kRegisters = 2;
constexpr std::size_t kShortestFrame = 4;

std::uint16_t tenths(double value) {
  const auto rounded = std::clamp(std::lround(10.0 * value), -32768L, 65535L);
  return static_cast<std::uint16_t>(rounded);
}

Registers registers_of(const Decoded& says) {
  return {tenths(says.temperature ? says.temperature->degc() : 0.0),
          tenths(says.humidity ? says.humidity->pct() : 0.0)};
}

std::uint8_t refusal_of(const Problem& problem) {
  return problem.code == "bad-count" ? 3 : 1;
}

}  // namespace

std::optional<Bytes> answer_frame(std::uint8_t unit, std::span<const std::uint8_t> frame,
                                  const std::optional<Decoded>& says) {
  if (!says || frame.size() < kShortestFrame || frame[0] != unit || crc16(frame) != 0) {
    return std::nullopt;
  }
  const auto read = parse_request(frame);
  if (!read) return encode_refusal(unit, frame[1], refusal_of(read.error()));
  const int offset = int(read->address) - kFirstRegister;
  if (offset < 0 || offset + int(read->count) > kRegisters) {
    return encode_refusal(unit, frame[1], 2);
  }
  const auto registers = registers_of(*says);
  return encode_answer(*read, std::span(registers).subspan(std::size_t(offset), read->count));
}

}  // namespace takehold::sensors
