#include "daemon/store/migration.hpp"

#include <algorithm>
#include <charconv>
#include <stdexcept>

namespace takehold::daemon {
namespace {

int version_of(std::string_view name) {
  int version = 0;
  const auto end = std::from_chars(name.data(), name.data() + name.size(), version);
  if (end.ec != std::errc() || end.ptr == name.data() + name.size() || *end.ptr != '_') {
    throw std::logic_error("migration without a number: " + std::string(name));
  }
  return version;
}

}  // namespace

std::vector<Migration> migrations_from(const std::vector<EmbeddedText>& files) {
  std::vector<Migration> steps;
  for (const auto& file : files) steps.push_back({version_of(file.name), file.name, file.text});
  std::sort(steps.begin(), steps.end(),
            [](const Migration& a, const Migration& b) { return a.version < b.version; });
  for (std::size_t i = 0; i < steps.size(); ++i) {
    if (steps[i].version != static_cast<int>(i) + 1) {
      throw std::logic_error("migrations are not 1, 2, 3 ...: " + std::string(steps[i].name));
    }
  }
  return steps;
}

}  // namespace takehold::daemon
