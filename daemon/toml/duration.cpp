#include "daemon/toml/duration.hpp"

#include <array>
#include <charconv>
#include <cstdint>
#include <limits>

namespace takehold::daemon {
namespace {

struct Unit {
  std::string_view name;
  std::int64_t ms;
};

constexpr std::array kUnits = {Unit{"d", 86'400'000}, Unit{"h", 3'600'000}, Unit{"min", 60'000},
                               Unit{"s", 1000}, Unit{"ms", 1}};

}  // namespace

sensors::Result<std::chrono::milliseconds> parse_duration(std::string_view text) {
  const sensors::Problem bad{"bad-duration", "not a duration", "\"" + std::string(text) + "\"", "",
                             "write a whole number and ms, s, min, h or d, as in \"30min\""};
  std::int64_t count = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), count);
  if (error != std::errc() || count < 0) return bad;
  const std::string_view name = text.substr(static_cast<std::size_t>(end - text.data()));
  for (const Unit& unit : kUnits) {
    if (unit.name != name) continue;
    if (count > std::numeric_limits<std::int64_t>::max() / 1'000'000 / unit.ms) return bad;
    return std::chrono::milliseconds(count * unit.ms);
  }
  return bad;
}

std::string duration_text(std::chrono::milliseconds duration) {
  const std::int64_t ms = duration.count();
  if (ms == 0) return "0s";
  for (const Unit& unit : kUnits) {
    if (ms % unit.ms == 0) return std::to_string(ms / unit.ms) + std::string(unit.name);
  }
  return std::to_string(ms) + "ms";
}

}  // namespace takehold::daemon
