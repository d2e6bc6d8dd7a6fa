#include "sensors/codec/modbus_map.hpp"

#include <cassert>
#include <cmath>
#include <cstdlib>
#include <string>

namespace takehold::sensors {
namespace {

Problem bad_setting(const char* code, const char* title, const std::string& where) {
  return {code, title, "", where, ""};
}

Result<void> check_quantity(const ModbusQuantity& quantity, const std::string& name) {
  if (quantity.function != 3 && quantity.function != 4) {
    return bad_setting("bad-function", "the function is 3 or 4", name + ".function");
  }
  if (quantity.address < 0 || quantity.address > 0xffff) {
    return bad_setting("bad-address", "an address is 0 to 65535", name + ".address");
  }
  if (!std::isfinite(quantity.scale) || quantity.scale == 0.0) {
    return bad_setting("bad-scale", "the scale is a number other than 0", name + ".scale");
  }
  return {};
}

ModbusRead read_of(const ModbusMap& map, const ModbusQuantity& quantity) {
  return {static_cast<std::uint8_t>(map.unit), static_cast<ModbusFunction>(quantity.function),
          static_cast<std::uint16_t>(quantity.address), 1};
}

bool side_by_side(const ModbusQuantity& a, const ModbusQuantity& b) {
  return a.function == b.function && std::abs(a.address - b.address) <= 1;
}

/// 973 tenths are 97.3 and not 97.30000000000001: a scale of 1/n divides by n.
double scaled(double raw, double scale) {
  const double parts = std::round(1.0 / scale);
  return 1.0 / parts == scale ? raw / parts : raw * scale;
}

/// The register of `quantity` among the answers, if it was read.
std::optional<double> value_of(const std::optional<ModbusQuantity>& quantity,
                               std::span<const ModbusRead> reads,
                               std::span<const std::optional<Registers>> answers) {
  if (!quantity) return std::nullopt;
  for (std::size_t i = 0; i < reads.size(); ++i) {
    const auto offset = quantity->address - int(reads[i].address);
    const bool here =
        int(reads[i].function) == quantity->function && offset >= 0 && offset < int(reads[i].count);
    if (!here || !answers[i]) continue;
    const std::uint16_t raw = answers[i]->at(std::size_t(offset));
    return scaled(quantity->is_signed ? double(static_cast<std::int16_t>(raw)) : raw,
                  quantity->scale);
  }
  return std::nullopt;
}

}  // namespace

Result<void> check(const ModbusMap& map) {
  if (map.unit < 1 || map.unit > 247) {
    return bad_setting("bad-unit-number", "a unit's number is 1 to 247", "unit");
  }
  if (!map.temperature && !map.humidity) {
    return bad_setting("no-values", "no register of a value is given", "");
  }
  if (map.temperature) {
    if (const auto checked = check_quantity(*map.temperature, "temperature"); !checked) {
      return checked;
    }
  }
  if (map.humidity) return check_quantity(*map.humidity, "humidity");
  return {};
}

std::vector<ModbusRead> reads_of(const ModbusMap& map) {
  std::vector<ModbusRead> reads;
  if (map.temperature) reads.push_back(read_of(map, *map.temperature));
  if (!map.humidity) return reads;
  const auto humidity = read_of(map, *map.humidity);
  if (!map.temperature || !side_by_side(*map.temperature, *map.humidity)) {
    reads.push_back(humidity);
    return reads;
  }
  auto& joint = reads.front();
  const auto last = std::max(joint.address, humidity.address);
  joint.address = std::min(joint.address, humidity.address);
  joint.count = static_cast<std::uint16_t>(last - joint.address + 1);
  return reads;
}

Result<Decoded> decode_registers(const ModbusMap& map,
                                 std::span<const std::optional<Registers>> answers) {
  const auto reads = reads_of(map);
  assert(answers.size() == reads.size());
  Decoded decoded;
  if (const auto value = value_of(map.temperature, reads, answers)) {
    decoded.temperature = Celsius::degc(*value);
  }
  if (const auto value = value_of(map.humidity, reads, answers)) {
    decoded.humidity = RelativeHumidity::pct(*value);
  }
  if (!decoded.temperature && !decoded.humidity) {
    return Problem{"no-values", "the unit gave neither value", "", "", ""};
  }
  return decoded;
}

}  // namespace takehold::sensors
