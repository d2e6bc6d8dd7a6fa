#include "client/terminal/days.hpp"

namespace takehold::client {

std::string shown(sensors::Day day, DateOrder order) {
  const std::string text = sensors::to_string(day);
  const std::string year = text.substr(0, 4), month = text.substr(5, 2), date = text.substr(8, 2);
  switch (order) {
    case DateOrder::day_first:
      return date + "." + month + "." + year;
    case DateOrder::month_first:
      return month + "/" + date + "/" + year;
    case DateOrder::year_first:
      break;
  }
  return text;
}

std::string shown_with_weekday(sensors::Day day, DateOrder order) {
  return sensors::weekday_name(day) + " " + shown(day, order);
}

std::string shown(sensors::Instant instant, const sensors::TimeZone& zone, DateOrder order) {
  return shown(zone.day_of(instant), order) + " " + zone.local_clock(instant);
}

}  // namespace takehold::client
