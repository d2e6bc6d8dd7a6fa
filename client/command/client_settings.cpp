#include "client/command/client_settings.hpp"

#include <filesystem>
#include <vector>

#include "client/command/own_folders.hpp"
#include "client/command/text_file.hpp"
#include "daemon/http/endpoint.hpp"
#include "daemon/toml/document.hpp"
#include "sensors/quantity/time_zone.hpp"

namespace takehold::client {
namespace {

namespace fs = std::filesystem;
using daemon::TomlTable;

template <class E>
std::optional<E> choice(const TomlTable& root, const char* key) {
  std::vector<std::string> names;
  for (const auto& [value, name] : EnumNames<E>::value) names.emplace_back(name);
  const auto word = root.choice(key, names);
  return word ? from_text<E>(*word) : std::nullopt;
}

std::optional<std::string> time_zone(const TomlTable& root) {
  const auto name = root.text("time_zone");
  if (!name) return std::nullopt;
  const auto zone = sensors::TimeZone::named(*name);
  if (!zone) root.refuse("time_zone", zone.error());
  return name;
}

std::optional<std::string> daemon_address(const TomlTable& root) {
  const auto address = root.text("daemon");
  if (!address) return std::nullopt;
  const auto endpoint = daemon::Endpoint::parse(*address);
  if (!endpoint) root.refuse("daemon", endpoint.error());
  return address;
}

std::optional<std::string> path_of(const TomlTable& root, const char* key,
                                   const std::string& file) {
  const auto path = root.text(key);
  if (!path) return std::nullopt;
  if (path->empty()) root.refuse(key, {"empty-name", "a file has a name", "", "", ""});
  return (fs::path(file).parent_path() / *path).string();
}

}  // namespace

ClientSettings read_client_settings(std::string_view text, const std::string& file) {
  const auto document = daemon::parse_toml(text, file).value();
  const TomlTable root = document.root();
  ClientSettings settings;
  settings.book = path_of(root, "book", file);
  settings.daemon = daemon_address(root);
  settings.token_file = path_of(root, "token_file", file);
  settings.time_zone = time_zone(root);
  settings.units = choice<Units>(root, "units");
  settings.dates = choice<DateOrder>(root, "dates").value_or(settings.dates);
  document.refuse_mistakes();
  return settings;
}

ClientSettings load_client_settings(const std::optional<std::string>& asked) {
  if (asked) return read_client_settings(read_text_file(*asked), *asked);
  for (const fs::path& folder : settings_folders()) {
    const std::string file = (folder / "takehold.toml").string();
    std::error_code none;
    if (fs::exists(file, none)) return read_client_settings(read_text_file(file), file);
  }
  return {};
}

}  // namespace takehold::client
