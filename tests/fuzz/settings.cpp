// chamberd's settings: whatever is read is written again, and what was written is read as the same.
#include <cstdlib>
#include <iostream>

#include "daemon/settings/settings.hpp"

using namespace takehold;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view input(reinterpret_cast<const char*>(data), size);
  const daemon::Places places{"/nowhere/state", "/nowhere/run"};
  std::string once;
  try {
    once = daemon::to_toml(daemon::read_settings(input, "/nowhere/chamberd.toml", places));
  } catch (const sensors::Refused&) {
    return 0;
  }
  if (once.find("***") != std::string::npos) return 0;  // a secret was blanked
  const auto again = daemon::to_toml(daemon::read_settings(once, "/nowhere/chamberd.toml", places));
  if (again == once) return 0;
  std::cerr << once << "\n---\n" << again << "\n";
  std::abort();
}
