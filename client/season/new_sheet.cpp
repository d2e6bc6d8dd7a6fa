#include <string>

#include "client/season/sheet.hpp"
#include "embedded/new_sheet.hpp"

namespace takehold::client {
namespace {

void fill(std::string& text, std::string_view mark, std::string_view value) {
  for (auto at = text.find(mark); at != std::string::npos; at = text.find(mark, at + value.size()))
    text.replace(at, mark.size(), value);
}

}  // namespace

std::string new_sheet(Day ready_on, std::string_view time_zone) {
  std::string text(embedded::new_sheet.front().text);
  text.erase(0, text.find_first_not_of('\n'));
  const std::string year = std::to_string(sensors::year_of(ready_on));
  fill(text, "@SEASON@", year);
  fill(text, "@YEAR@", year);
  fill(text, "@READY_ON@", sensors::to_string(ready_on));
  fill(text, "@TIME_ZONE@", time_zone);
  return text;
}

}  // namespace takehold::client
