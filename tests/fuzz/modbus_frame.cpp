// Frames from a line: as an answer to a question, as a question to a unit, and as registers of any
// meaning.
#include <cmath>
#include <cstdlib>

#include "sensors/codec/modbus_map.hpp"
#include "sensors/codec/told.hpp"
#include "sensors/sim/modbus_unit.hpp"

using namespace takehold::sensors;

namespace {

/// Where the values stand, drawn from the first bytes.
ModbusMap map_of(std::span<const std::uint8_t> bytes) {
  ModbusMap map;
  std::size_t at = 0;
  for (const auto told : kAllTold) {
    if (at + 3 > bytes.size()) break;
    ModbusQuantity quantity;
    quantity.function = 3 + (bytes[at] & 1);
    quantity.type = static_cast<ModbusType>((bytes[at] >> 1) % 5);
    quantity.low_word_first = (bytes[at] & 0x80) != 0;
    quantity.address = bytes[at + 1] % 40;
    quantity.scale = bytes[at + 2] - 100.5;
    if ((bytes[at] & 0x40) == 0) place_of(map, told) = quantity;
    at += 3;
  }
  return map;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::span input(data, size);
  const auto map = map_of(input.first(std::min<std::size_t>(size, 15)));
  const auto frames = input.subspan(std::min<std::size_t>(size, 15));
  static_cast<void>(parse_request(frames));
  static_cast<void>(answer_frame(1, frames, Decoded{Celsius::degc(24), RelativeHumidity::pct(96)}));
  if (!check(map)) return 0;
  std::vector<std::optional<Registers>> answers;
  for (const auto& read : reads_of(map)) {
    if (read.count == 0 || read.count > kMaxRegisters) std::abort();
    ModbusAnswer answer(read);
    std::optional<Result<Registers>> outcome;
    for (std::size_t at = 0; at < frames.size() && !outcome; at += 5) {
      outcome = answer.feed(frames.subspan(at, std::min<std::size_t>(5, frames.size() - at)));
    }
    if (outcome && *outcome && (*outcome)->size() != read.count) std::abort();
    Registers raw;
    for (std::size_t i = 0; i < read.count; ++i) {
      raw.push_back(
          2 * i + 1 < frames.size() ? std::uint16_t(frames[2 * i] << 8 | frames[2 * i + 1]) : 0);
    }
    answers.emplace_back(raw);
  }
  const auto decoded = decode_registers(map, answers);
  if (decoded && decoded->temperature && !std::isfinite(decoded->temperature->degc())) std::abort();
  return 0;
}
