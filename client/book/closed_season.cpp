#include "client/book/closed_season.hpp"

#include "client/season/season.hpp"

namespace takehold::client {

void refuse_closed_season(const Book& book, std::string_view season) {
  for (const SeasonClose& close : book.all<SeasonClose>()) {
    if (close.season != season) continue;
    throw sensors::Refused(
        {"season-closed", "the season " + close.season + " is closed",
         "since " + book.time_zone().local_text(close.at), book.path().string(),
         "begin the next: takehold season new FILE, then takehold season load FILE"});
  }
}

void refuse_closed(const Book& book) {
  if (const auto season = book.find<Season>("season")) refuse_closed_season(book, season->season);
}

}  // namespace takehold::client
