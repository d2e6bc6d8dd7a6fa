// One line of text to one answer, in whichever of the three line formats the probe speaks.
#pragma once

#include <string>
#include <string_view>
#include <variant>

#include "sensors/codec/json_map.hpp"
#include "sensors/codec/key_value.hpp"
#include "sensors/codec/text_pattern.hpp"

namespace takehold::sensors {

/// A regular expression as the settings give it.
struct PatternText {
  std::string pattern;
};

/// How a probe's lines are written; what the settings fill. A JsonMap here means JSON Lines.
using TextFormat = std::variant<PatternText, KeyValueMap, JsonMap>;

inline constexpr std::size_t kMaxTextLine = 256;
inline constexpr std::size_t kMaxJsonLine = 4096;

/// A checked TextFormat. Free to copy and to share between threads.
class LineDecoder {
 public:
  /// Codes "bad-pattern", "no-groups", "bad-pointer", "no-pointers", "no-keys".
  static Result<LineDecoder> make(const TextFormat& format);

  /// The most bytes a line may have: kMaxTextLine, for JSON kMaxJsonLine.
  std::size_t max_line() const;

  /// `line` without its end. Code "too-long", and those of the format's own decoder.
  Result<Decoded> decode(std::string_view line) const;

 private:
  using Checked = std::variant<TextPattern, KeyValueMap, JsonMap>;
  explicit LineDecoder(Checked checked) : checked_(std::move(checked)) {}
  Checked checked_;
};

}  // namespace takehold::sensors
