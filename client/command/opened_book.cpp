#include "client/command/opened_book.hpp"

#include <fmt/format.h>

#include <charconv>
#include <filesystem>

#include "client/command/moment.hpp"

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

/// "09:30" as minutes since midnight.
std::optional<std::chrono::minutes> clock_time(std::string_view text) {
  const auto digit = [&](std::size_t i) { return text[i] >= '0' && text[i] <= '9'; };
  const std::size_t colon = text.find(':');
  if ((colon != 1 && colon != 2) || text.size() != colon + 3) return std::nullopt;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (i != colon && !digit(i)) return std::nullopt;
  }
  int hours = 0, minutes = 0;
  std::from_chars(text.data(), text.data() + colon, hours);
  std::from_chars(text.data() + colon + 1, text.data() + text.size(), minutes);
  if (hours > 23 || minutes > 59) return std::nullopt;
  return std::chrono::minutes(60 * hours + minutes);
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

sensors::Instant moment_of(const std::string& text, const char* option, sensors::Day day,
                           const Book& book) {
  if (const auto time = clock_time(text)) return book.time_zone().at(day, *time);
  auto instant = sensors::parse_instant(text);
  if (instant) return *instant;
  sensors::Problem problem = instant.error();
  problem.where = option;
  throw WrongUsage(std::move(problem));
}

sensors::Instant instant_of(const TypedWhen& when, const Book& book, sensors::Instant now) {
  if (!when.on && !when.at) return now;
  const sensors::Day today = book.time_zone().day_of(now);
  const sensors::Day day = when.on ? parsed_day(*when.on) : today;
  sensors::Instant instant = day == today ? now : book.time_zone().noon(day);
  if (when.at) instant = moment_of(*when.at, "--at", day, book);
  if (when.on && book.time_zone().day_of(instant) != day) {
    throw WrongUsage({"usage", "--at is not on the day of --on", "", "--at", "give one of them"});
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
