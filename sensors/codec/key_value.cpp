#include "sensors/codec/key_value.hpp"

#include "sensors/codec/told.hpp"

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
    for (const auto told : kAllTold) {
      const auto& wanted = place_of(map, told);
      if (!wanted || key != *wanted || has(decoded, told)) continue;
      if (const auto taken = put(decoded, told, text); !taken) return taken.error();
    }
  }
  if (decoded.is_empty()) {
    return Problem{"no-values", "none of the keys is in the line", quote_bytes(line), "", ""};
  }
  return decoded;
}

}  // namespace takehold::sensors
