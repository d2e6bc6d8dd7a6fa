#include "sensors/quantity/machine_zone.hpp"

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string_view>

namespace takehold::sensors {
namespace {

// ":Europe/Lisbon" is the POSIX way to say that a name follows; "CET-1CEST" is a rule and no name.
std::string environment_zone() {
  const char* text = std::getenv("TZ");
  std::string_view name = text ? text : "";
  if (name.starts_with(':')) name.remove_prefix(1);
  return std::string(name);
}

// /etc/localtime points into the zone files; what stands behind "zoneinfo/" is the name.
std::string link_zone() {
  std::error_code none;
  const auto target = std::filesystem::canonical("/etc/localtime", none).string();
  constexpr std::string_view kFolder = "zoneinfo/";
  const auto at = target.find(kFolder);
  return none || at == std::string::npos ? "" : target.substr(at + kFolder.size());
}

std::string file_zone() {
  std::ifstream file("/etc/timezone");
  std::string name;
  std::getline(file, name);
  return name;
}

}  // namespace

TimeZone machine_zone() {
  for (const std::string& name : {environment_zone(), link_zone(), file_zone()})
    if (!name.empty())
      if (auto zone = TimeZone::named(name)) return *zone;
  return TimeZone::utc();
}

}  // namespace takehold::sensors
