#include "client/command/context.hpp"

#include "client/command/own_folders.hpp"

namespace takehold::client {
sensors::Instant now_of(const GlobalOptions& options, sensors::Instant clock) {
  if (!options.now) return clock;
  auto parsed = sensors::parse_instant(*options.now);
  if (parsed) return *parsed;
  sensors::Problem problem = parsed.error();
  problem.where = "--now";
  throw WrongUsage(std::move(problem));
}

std::string book_path(const Context& context) {
  if (context.options.book) return *context.options.book;
  if (context.settings.book) return *context.settings.book;
  return (data_folder() / "book.db").string();
}

}  // namespace takehold::client
