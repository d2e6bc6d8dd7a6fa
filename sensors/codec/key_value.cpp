#include "sensors/codec/key_value.hpp"

namespace takehold::sensors {
namespace {

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

bool parts_at(std::string_view line, std::size_t i) {
  const char c = line[i];
  if (c == ',') {
    return i == 0 || i + 1 == line.size() || !is_digit(line[i - 1]) || !is_digit(line[i + 1]);
  }
  return c == ' ' || c == '\t' || c == ';' || c == '\r' || c == '\n';
}

std::string_view take_word(std::string_view line, std::size_t& at) {
  while (at < line.size() && parts_at(line, at)) ++at;
  const std::size_t begin = at;
  while (at < line.size() && !parts_at(line, at)) ++at;
  return line.substr(begin, at - begin);
}

}  // namespace

Result<Decoded> decode_key_value(const KeyValueMap& map, std::string_view line) {
  Decoded decoded;
  std::size_t at = 0;
  for (auto word = take_word(line, at); !word.empty(); word = take_word(line, at)) {
    const auto equals = word.find('=');
    if (equals == std::string_view::npos) continue;
    const auto key = word.substr(0, equals);
    const auto text = word.substr(equals + 1);
    if (map.temperature && key == *map.temperature && !decoded.temperature) {
      const auto value = parse_temperature(text);
      if (!value) return value.error();
      decoded.temperature = *value;
    } else if (map.humidity && key == *map.humidity && !decoded.humidity) {
      const auto value = parse_humidity(text);
      if (!value) return value.error();
      decoded.humidity = *value;
    }
  }
  if (!decoded.temperature && !decoded.humidity) {
    return Problem{"no-values", "neither key is in the line", quote_bytes(line), "", ""};
  }
  return decoded;
}

}  // namespace takehold::sensors
