#include "client/command/context.hpp"

#include <cstdlib>
#include <filesystem>

namespace takehold::client {
namespace {

std::string environment(const char* name) {
  const char* value = std::getenv(name);
  return value == nullptr ? "" : value;
}

}  // namespace

sensors::Instant now_of(const GlobalOptions& options, sensors::Instant clock) {
  if (!options.now) return clock;
  auto parsed = sensors::parse_instant(*options.now);
  if (parsed) return *parsed;
  sensors::Problem problem = parsed.error();
  problem.where = "--now";
  throw WrongUsage(std::move(problem));
}

std::string book_path(const GlobalOptions& options) {
  namespace fs = std::filesystem;
  if (options.book) return *options.book;
  // The XDG base directory rules: a relative path there is to be ignored.
  const fs::path data_home = environment("XDG_DATA_HOME");
  if (data_home.is_absolute()) return (data_home / "takehold" / "book.db").string();
  const std::string home = environment("HOME");
  if (home.empty()) {
    throw sensors::Refused({"no-home", "there is no place for the book",
                            "neither XDG_DATA_HOME nor HOME is set", "", "say where: --book FILE"});
  }
  return (fs::path(home) / ".local" / "share" / "takehold" / "book.db").string();
}

}  // namespace takehold::client
