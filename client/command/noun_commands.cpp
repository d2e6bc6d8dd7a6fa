#include "client/command/noun_commands.hpp"

namespace takehold::client {

void require_range(bool holds, std::string_view field, std::string_view range) {
  if (holds) return;
  throw sensors::Refused(
      {"out-of-range", fmt::format("it must be {}", range), "", option_of_field(field), ""});
}

std::string field_text(const nlohmann::json& value) {
  if (value.is_null()) return "unknown";
  return value.is_string() ? value.get<std::string>() : value.dump();
}

}  // namespace takehold::client
