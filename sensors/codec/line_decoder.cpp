#include "sensors/codec/line_decoder.hpp"

#include "sensors/codec/told.hpp"

namespace takehold::sensors {

Result<LineDecoder> LineDecoder::make(const TextFormat& format) {
  if (const auto* text = std::get_if<PatternText>(&format)) {
    auto pattern = TextPattern::compile(text->pattern);
    if (!pattern) return pattern.error();
    return LineDecoder(*std::move(pattern));
  }
  if (const auto* keys = std::get_if<KeyValueMap>(&format)) {
    if (tells_nothing(*keys)) {
      return Problem{"no-keys", "no key of a value is given", "", "",
                     "give temperature, humidity or both"};
    }
    return LineDecoder(*keys);
  }
  const auto& map = std::get<JsonMap>(format);
  if (const auto checked = check(map); !checked) return checked.error();
  return LineDecoder(map);
}

std::size_t LineDecoder::max_line() const {
  return std::holds_alternative<JsonMap>(checked_) ? kMaxJsonLine : kMaxTextLine;
}

Result<Decoded> LineDecoder::decode(std::string_view line) const {
  if (line.size() > max_line()) {
    return Problem{"too-long", "the line is too long",
                   "more than " + std::to_string(max_line()) + " bytes", "", ""};
  }
  if (const auto* pattern = std::get_if<TextPattern>(&checked_)) return pattern->decode(line);
  if (const auto* keys = std::get_if<KeyValueMap>(&checked_)) return decode_key_value(*keys, line);
  return decode_json(std::get<JsonMap>(checked_), line);
}

}  // namespace takehold::sensors
