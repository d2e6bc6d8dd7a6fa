// The season sheet: what is read is written and read as the same.
#include <cstdlib>
#include <iostream>

#include "client/season/sheet.hpp"
#include "sensors/quantity/problem.hpp"

using namespace takehold;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view input(reinterpret_cast<const char*>(data), size);
  std::string once;
  try {
    once = client::write_sheet(client::read_sheet(input, "fuzz.toml"));
  } catch (const sensors::Refused&) {
    return 0;
  }
  try {
    const auto again = client::write_sheet(client::read_sheet(once, "again.toml"));
    if (again == once) return 0;
    std::cerr << once << "\n---\n" << again << "\n";
  } catch (const sensors::Refused& refused) {
    std::cerr << once << "\n---\n" << refused.what() << "\n";
  }
  std::abort();
}
