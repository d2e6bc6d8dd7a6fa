#include "sensors/codec/modbus_map.hpp"

#include <algorithm>
#include <bit>
#include <cassert>
#include <cmath>
#include <string>

#include "sensors/codec/told.hpp"

namespace takehold::sensors {
namespace {

Problem bad_setting(const char* code, const char* title, const std::string& where) {
  return {code, title, "", where, ""};
}

Result<void> check_quantity(const ModbusQuantity& quantity, const std::string& name) {
  if (quantity.function != 3 && quantity.function != 4) {
    return bad_setting("bad-function", "the function is 3 or 4", name + ".function");
  }
  if (quantity.address < 0 || quantity.address + quantity.registers() > 0x10000) {
    return bad_setting("bad-address", "an address is 0 to 65535", name + ".address");
  }
  if (!std::isfinite(quantity.scale) || quantity.scale == 0.0) {
    return bad_setting("bad-scale", "the scale is a number other than 0", name + ".scale");
  }
  if (!std::isfinite(quantity.offset)) {
    return bad_setting("bad-offset", "the offset is a number", name + ".offset");
  }
  return {};
}

ModbusRead read_of(const ModbusMap& map, const ModbusQuantity& quantity) {
  return {static_cast<std::uint8_t>(map.unit), static_cast<ModbusFunction>(quantity.function),
          static_cast<std::uint16_t>(quantity.address),
          static_cast<std::uint16_t>(quantity.registers())};
}

int end_of(const ModbusRead& read) {
  return int(read.address) + int(read.count);
}

bool touch(const ModbusRead& a, const ModbusRead& b) {
  return a.function == b.function && int(a.address) <= end_of(b) && int(b.address) <= end_of(a);
}

ModbusRead joined(const ModbusRead& a, const ModbusRead& b) {
  ModbusRead both = a;
  both.address = std::min(a.address, b.address);
  both.count = static_cast<std::uint16_t>(std::max(end_of(a), end_of(b)) - int(both.address));
  return both;
}

/// 973 tenths are 97.3 and not 97.30000000000001: a scale of 1/n divides by n.
double scaled(double raw, double scale) {
  const double parts = std::round(1.0 / scale);
  return 1.0 / parts == scale ? raw / parts : raw * scale;
}

double number_in(std::span<const std::uint16_t> words, const ModbusQuantity& quantity) {
  if (quantity.type == ModbusType::uint16) return words[0];
  if (quantity.type == ModbusType::int16) return static_cast<std::int16_t>(words[0]);
  const std::uint32_t high = words[quantity.low_word_first ? 1 : 0];
  const std::uint32_t low = words[quantity.low_word_first ? 0 : 1];
  const std::uint32_t bits = high << 16 | low;
  if (quantity.type == ModbusType::uint32) return bits;
  if (quantity.type == ModbusType::int32) return static_cast<std::int32_t>(bits);
  return std::bit_cast<float>(bits);
}

/// The value of `quantity` among the answers, if it was read.
std::optional<double> value_of(const ModbusQuantity& quantity, std::span<const ModbusRead> reads,
                               std::span<const std::optional<Registers>> answers) {
  for (std::size_t i = 0; i < reads.size(); ++i) {
    const int at = quantity.address - int(reads[i].address);
    const bool here = int(reads[i].function) == quantity.function && at >= 0 &&
                      at + quantity.registers() <= int(reads[i].count);
    if (!here || !answers[i] || answers[i]->size() < reads[i].count) continue;
    const double number = number_in(std::span(*answers[i]).subspan(std::size_t(at)), quantity);
    if (!std::isfinite(number)) return std::nullopt;
    return scaled(number, quantity.scale) + quantity.offset;
  }
  return std::nullopt;
}

}  // namespace

Result<void> check(const ModbusMap& map) {
  if (map.unit < 1 || map.unit > 247) {
    return bad_setting("bad-unit-number", "a unit's number is 1 to 247", "unit");
  }
  if (tells_nothing(map)) {
    return bad_setting("no-values", "no register of a value is given", "");
  }
  for (const auto told : kAllTold) {
    const auto& quantity = place_of(map, told);
    if (!quantity) continue;
    if (const auto checked = check_quantity(*quantity, to_string(told)); !checked) return checked;
  }
  return {};
}

std::vector<ModbusRead> reads_of(const ModbusMap& map) {
  std::vector<ModbusRead> reads;
  for (const auto told : kAllTold) {
    const auto& quantity = place_of(map, told);
    if (!quantity) continue;
    auto read = read_of(map, *quantity);
    // What it bridges becomes one with it, in the place of the first.
    std::optional<std::size_t> place;
    for (std::size_t i = 0; i < reads.size();) {
      if (!touch(reads[i], read)) {
        ++i;
        continue;
      }
      read = joined(reads[i], read);
      reads.erase(reads.begin() + std::ptrdiff_t(i));
      if (!place) place = i;
      i = 0;
    }
    reads.insert(reads.begin() + std::ptrdiff_t(place.value_or(reads.size())), read);
  }
  return reads;
}

Result<Decoded> decode_registers(const ModbusMap& map,
                                 std::span<const std::optional<Registers>> answers) {
  const auto reads = reads_of(map);
  assert(answers.size() == reads.size());
  Decoded decoded;
  for (const auto told : kAllTold) {
    const auto& quantity = place_of(map, told);
    if (!quantity) continue;
    if (const auto value = value_of(*quantity, reads, answers)) put(decoded, told, *value);
  }
  if (decoded.is_empty()) return Problem{"no-values", "the unit gave no value", "", "", ""};
  return decoded;
}

}  // namespace takehold::sensors
