// Regimes by name: the grower's own files, then those compiled in from config/regimes/.
#include <fstream>
#include <sstream>

#include "daemon/healing/regime_toml.hpp"
#include "embedded/regimes.hpp"

namespace takehold::daemon {
namespace {

namespace fs = std::filesystem;
using sensors::Problem;
using sensors::Result;

constexpr std::string_view kEnding = ".toml";

Result<Regime> read_file(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  std::ostringstream text;
  if (!file || !(text << file.rdbuf())) {
    return Problem{"no-file", "this healing plan cannot be read", "", path.string(), ""};
  }
  return read_regime(text.str(), path.string());
}

Problem not_found(const std::string& name) {
  std::string known;
  for (const auto& one : built_in_regime_names()) known += (known.empty() ? "" : ", ") + one;
  return {"regime-not-found", "there is no healing plan of this name", "\"" + name + "\"", "",
          "built in are: " + known};
}

bool is_file(const fs::path& path) {
  std::error_code none;
  return fs::is_regular_file(path, none);
}

}  // namespace

std::vector<std::string> built_in_regime_names() {
  std::vector<std::string> names;
  for (const auto& file : embedded::regimes) {
    names.emplace_back(file.name.substr(0, file.name.size() - kEnding.size()));
  }
  return names;
}

Result<Regime> find_regime(const std::string& name_or_file, const std::vector<fs::path>& folders) {
  const bool names_file = name_or_file.ends_with(kEnding);
  const std::string file_name = names_file ? name_or_file : name_or_file + std::string(kEnding);
  if (names_file && fs::path(file_name).is_absolute()) return read_file(file_name);
  // A plain name must not wander through folders.
  if (!names_file && name_or_file.find('/') != std::string::npos) return not_found(name_or_file);
  for (const fs::path& folder : folders) {
    if (is_file(folder / file_name)) return read_file(folder / file_name);
  }
  if (!names_file) {
    for (const auto& file : embedded::regimes) {
      if (file.name == file_name) return read_regime(file.text, "built-in " + file_name);
    }
  }
  return not_found(name_or_file);
}

}  // namespace takehold::daemon
