#include "sensors/codec/text_pattern.hpp"

#include <algorithm>
#include <boost/regex.hpp>

#include "sensors/codec/told.hpp"

namespace takehold::sensors {

struct TextPattern::Compiled {
  boost::regex regex;
};

namespace {

/// Boost.Regex does not list the names of its groups, but both spellings are plain to see.
bool has_group(const std::string& pattern, const std::string& name) {
  return pattern.find("(?<" + name + ">") != std::string::npos ||
         pattern.find("(?'" + name + "'") != std::string::npos;
}

std::string_view text_of(const boost::csub_match& group) {
  return {group.first, static_cast<std::size_t>(group.length())};
}

}  // namespace

Result<TextPattern> TextPattern::compile(const std::string& pattern) {
  try {
    auto compiled = std::make_shared<const Compiled>(Compiled{boost::regex(pattern)});
    if (std::none_of(kAllTold.begin(), kAllTold.end(),
                     [&](Told told) { return has_group(pattern, to_string(told)); })) {
      return Problem{"no-groups", "the pattern names no value", quote_bytes(pattern), "",
                     "put (?<temperature>...) or (?<humidity>...) around the number"};
    }
    return TextPattern(std::move(compiled));
  } catch (const boost::regex_error& error) {
    return Problem{"bad-pattern", "not a regular expression", error.what(), "", ""};
  }
}

Result<Decoded> TextPattern::decode(std::string_view line) const {
  boost::cmatch found;
  try {
    const char* const end = line.data() + line.size();
    if (!boost::regex_search(line.data(), end, found, compiled_->regex)) {
      return Problem{"no-match", "the line does not match the pattern", quote_bytes(line), "", ""};
    }
  } catch (const std::runtime_error& error) {  // the engine's bounds: complexity, stack
    return Problem{"pattern-too-slow", "the pattern needs too much work for this line",
                   error.what(), "", "avoid one repetition inside another, as in (a+)+"};
  }
  Decoded decoded;
  for (const auto told : kAllTold) {
    const auto& group = found[to_string(told)];
    if (!group.matched) continue;
    if (const auto taken = put(decoded, told, text_of(group)); !taken) return taken.error();
  }
  if (decoded.is_empty()) {
    return Problem{"no-match", "the pattern matched but took no value", quote_bytes(line), "", ""};
  }
  return decoded;
}

}  // namespace takehold::sensors
