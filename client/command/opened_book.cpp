#include "client/command/opened_book.hpp"

#include <fmt/format.h>

#include <filesystem>

namespace takehold::client {
namespace {

namespace fs = std::filesystem;
using sensors::Refused;

sensors::Day parsed_day(const std::string& text) {
  auto day = sensors::parse_day(text);
  if (day) return *day;
  sensors::Problem problem = day.error();
  problem.where = "--on";
  throw WrongUsage(std::move(problem));
}

sensors::Instant parsed_instant(const std::string& text) {
  auto instant = sensors::parse_instant(text);
  if (instant) return *instant;
  sensors::Problem problem = instant.error();
  problem.where = "--at";
  throw WrongUsage(std::move(problem));
}

}  // namespace

Book open_book(Context& context, BookUse use) {
  const fs::path path = book_path(context);
  if (use == BookUse::reading && !fs::exists(path)) {
    throw Refused({"no-book", "there is no book yet", "", path.string(),
                   "begin with: takehold season new FILE, then takehold season load FILE"});
  }
  std::error_code failed;
  if (path.has_parent_path()) fs::create_directories(path.parent_path(), failed);
  if (failed) {
    throw Refused({"no-folder", "the book's folder cannot be made", failed.message(),
                   path.parent_path().string(), ""});
  }
  Book book = Book::open(path, context.now, {.time_zone = context.settings.time_zone});
  if (const auto season = book.find<Season>("season")) context.use_units_of_season(season->units);
  return book;
}

Season season_in(const Book& book) {
  if (auto season = book.find<Season>("season")) return *std::move(season);
  throw Refused({"no-season", "the book has no season yet", "", book.path().string(),
                 "load a sheet: takehold season load FILE"});
}

void refuse_not_there(std::string_view what, std::string_view typed) {
  throw Refused({"not-there", fmt::format("there is no {} {}", what, typed), "", "", ""});
}

Pairing find_pairing(const Book& book, std::string_view typed) {
  const std::size_t slash = typed.find('/');
  if (slash == std::string_view::npos) return find_numbered<Pairing>(book, typed);
  std::vector<std::string> scions, rootstocks;
  const std::vector<Pairing> all = book.all<Pairing>();
  for (const Pairing& pairing : all) {
    scions.push_back(pairing.scion);
    rootstocks.push_back(pairing.rootstock);
  }
  const auto unique = [](std::vector<std::string>& names) {
    std::sort(names.begin(), names.end());
    names.erase(std::unique(names.begin(), names.end()), names.end());
  };
  unique(scions);
  unique(rootstocks);
  const auto scion = by_beginning(typed.substr(0, slash), scions, "scion").value();
  const auto rootstock = by_beginning(typed.substr(slash + 1), rootstocks, "rootstock").value();
  const auto found = std::find_if(all.begin(), all.end(), [&](const Pairing& pairing) {
    return pairing.scion == scion && pairing.rootstock == rootstock;
  });
  if (found == all.end()) refuse_not_there("pairing", scion + "/" + rootstock);
  return *found;
}

sensors::Instant instant_of(const TypedWhen& when, const Book& book, sensors::Instant now) {
  if (!when.on && !when.at) return now;
  sensors::Instant instant = now;
  if (when.at) {
    instant = parsed_instant(*when.at);
  } else if (const auto day = parsed_day(*when.on); day != book.time_zone().day_of(now)) {
    instant = book.time_zone().noon(day);
  }
  if (instant > now) {
    throw Refused({"in-the-future", "that has not happened yet",
                   "records say what was done, not what will be", when.at ? "--at" : "--on", ""});
  }
  return instant;
}

sensors::Day day_of(const TypedWhen& when, const Book& book, sensors::Instant now) {
  return book.time_zone().day_of(instant_of(when, book, now));
}

}  // namespace takehold::client
