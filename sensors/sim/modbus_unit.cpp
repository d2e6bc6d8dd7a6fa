#include "sensors/sim/modbus_unit.hpp"

#include <algorithm>
#include <bit>
#include <cmath>

namespace takehold::sensors {
namespace {

constexpr int kFirstRegister = 1;
constexpr int kRegisters = 9;
constexpr std::size_t kShortestFrame = 4;

std::uint16_t tenths(double value) {
  const auto rounded = std::clamp(std::lround(10.0 * value), -32768L, 65535L);
  return static_cast<std::uint16_t>(rounded);
}

std::uint16_t whole(double value) {
  return static_cast<std::uint16_t>(std::clamp(std::lround(value), 0L, 65535L));
}

void put_float(Registers& registers, double value) {
  const auto bits = std::bit_cast<std::uint32_t>(static_cast<float>(value));
  registers.push_back(static_cast<std::uint16_t>(bits >> 16));
  registers.push_back(static_cast<std::uint16_t>(bits & 0xffff));
}

Registers registers_of(const Decoded& says) {
  const double degc = says.temperature ? says.temperature->degc() : 0.0;
  const double pct = says.humidity ? says.humidity->pct() : 0.0;
  const auto& [leaf, co2, light] = says.extras;
  Registers registers{tenths(degc), tenths(pct), tenths(leaf ? leaf->degc() : 0.0),
                      whole(co2 ? co2->ppm() : 0.0), whole(light ? light->umol() : 0.0)};
  put_float(registers, degc);
  put_float(registers, pct);
  return registers;
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
