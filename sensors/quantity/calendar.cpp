#include "sensors/quantity/calendar.hpp"

#include <array>
#include <charconv>
#include <cstdio>
#include <optional>

namespace takehold::sensors {
namespace {

using std::chrono::year_month_day;

/// Reads exactly `width` digits from the front of `text`.
std::optional<int> take_digits(std::string_view& text, std::size_t width) {
  if (text.size() < width) return std::nullopt;
  int value = 0;
  for (char c : text.substr(0, width)) {
    if (c < '0' || c > '9') return std::nullopt;
    value = value * 10 + (c - '0');
  }
  text.remove_prefix(width);
  return value;
}

bool take(std::string_view& text, char wanted) {
  if (text.empty() || text.front() != wanted) return false;
  text.remove_prefix(1);
  return true;
}

std::optional<year_month_day> take_date(std::string_view& text) {
  const auto year = take_digits(text, 4);
  if (!year || !take(text, '-')) return std::nullopt;
  const auto month = take_digits(text, 2);
  if (!month || !take(text, '-')) return std::nullopt;
  const auto day = take_digits(text, 2);
  if (!day) return std::nullopt;
  const year_month_day date{std::chrono::year{*year}, std::chrono::month(unsigned(*month)),
                            std::chrono::day(unsigned(*day))};
  if (!date.ok()) return std::nullopt;
  return date;
}

std::optional<std::chrono::milliseconds> take_time(std::string_view& text) {
  const auto hour = take_digits(text, 2);
  if (!hour || *hour > 23 || !take(text, ':')) return std::nullopt;
  const auto minute = take_digits(text, 2);
  if (!minute || *minute > 59 || !take(text, ':')) return std::nullopt;
  const auto second = take_digits(text, 2);
  if (!second || *second > 59) return std::nullopt;
  int ms = 0;
  if (take(text, '.')) {
    int scale = 100;
    bool any = false;
    while (!text.empty() && text.front() >= '0' && text.front() <= '9') {
      ms += scale * (text.front() - '0');
      scale /= 10;
      any = true;
      text.remove_prefix(1);
    }
    if (!any) return std::nullopt;
  }
  using namespace std::chrono;
  return hours(*hour) + minutes(*minute) + seconds(*second) + milliseconds(ms);
}

std::optional<std::chrono::minutes> take_offset(std::string_view& text) {
  if (take(text, 'Z') || take(text, 'z')) return std::chrono::minutes(0);
  if (text.empty()) return std::nullopt;
  const int sign = text.front() == '-' ? -1 : text.front() == '+' ? 1 : 0;
  if (sign == 0) return std::nullopt;
  text.remove_prefix(1);
  const auto hour = take_digits(text, 2);
  if (!hour || *hour > 23 || !take(text, ':')) return std::nullopt;
  const auto minute = take_digits(text, 2);
  if (!minute || *minute > 59) return std::nullopt;
  return sign * (std::chrono::hours(*hour) + std::chrono::minutes(*minute));
}

Problem bad_instant(std::string_view text, std::string hint) {
  return {"bad-instant", "not a point in time", "\"" + std::string(text) + "\"", "",
          std::move(hint)};
}

std::string date_text(year_month_day date) {
  std::array<char, 32> buffer;
  std::snprintf(buffer.data(), buffer.size(), "%04d-%02u-%02u", int(date.year()),
                unsigned(date.month()), unsigned(date.day()));
  return buffer.data();
}

}  // namespace

Result<Day> parse_day(std::string_view text) {
  std::string_view rest = text;
  const auto date = take_date(rest);
  if (!date || !rest.empty()) {
    return Problem{"bad-date", "not a date", "\"" + std::string(text) + "\"", "",
                   "write it as 2027-04-12"};
  }
  return Day(std::chrono::sys_days(*date).time_since_epoch());
}

Result<Instant> parse_instant(std::string_view text) {
  constexpr auto kHint = "write it as 2027-04-12T09:30:00Z, or with an offset such as +01:00";
  std::string_view rest = text;
  const auto date = take_date(rest);
  if (!date || !(take(rest, 'T') || take(rest, 't') || take(rest, ' '))) {
    return bad_instant(text, kHint);
  }
  const auto time = take_time(rest);
  if (!time) return bad_instant(text, kHint);
  if (rest.empty()) {
    return bad_instant(text, "it has no offset, so it names no one moment: add Z or +01:00");
  }
  const auto offset = take_offset(rest);
  if (!offset || !rest.empty()) return bad_instant(text, kHint);
  return Instant(std::chrono::sys_days(*date)) + *time - *offset;
}

std::string to_string(Day day) {
  return date_text(year_month_day(std::chrono::sys_days(day.time_since_epoch())));
}

std::string to_string(Instant instant) {
  using namespace std::chrono;
  const auto midnight = floor<days>(instant);
  const hh_mm_ss time(instant - midnight);
  std::array<char, 32> buffer;
  std::snprintf(buffer.data(), buffer.size(), "T%02d:%02d:%02d", int(time.hours().count()),
                int(time.minutes().count()), int(time.seconds().count()));
  std::string text = date_text(year_month_day(midnight)) + buffer.data();
  if (const auto ms = time.subseconds().count(); ms != 0) {
    std::snprintf(buffer.data(), buffer.size(), ".%03d", int(ms));
    text += buffer.data();
  }
  return text + "Z";
}

std::string weekday_name(Day day) {
  constexpr std::array names = {"Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"};
  return names[std::chrono::weekday(day).c_encoding()];
}

int year_of(Day day) {
  return int(year_month_day(std::chrono::sys_days(day.time_since_epoch())).year());
}

Day make_day(int year, unsigned month, unsigned day) {
  const year_month_day date{std::chrono::year{year}, std::chrono::month{month},
                            std::chrono::day{day}};
  return Day(std::chrono::sys_days(date).time_since_epoch());
}

}  // namespace takehold::sensors
