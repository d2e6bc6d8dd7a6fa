#include <chrono>
#include <cmath>

#include "daemon/toml/document.hpp"
#include "daemon/toml/duration.hpp"
#include "daemon/toml/state.hpp"

namespace takehold::daemon {
namespace {

std::string_view kind_of(const toml::node& node) {
  switch (node.type()) {
    case toml::node_type::table:
      return "a table";
    case toml::node_type::array:
      return "a list";
    case toml::node_type::string:
      return "text";
    case toml::node_type::integer:
      return "a whole number";
    case toml::node_type::floating_point:
      return "a number";
    case toml::node_type::boolean:
      return "true or false";
    case toml::node_type::date:
      return "a date";
    case toml::node_type::time:
      return "a time of day";
    case toml::node_type::date_time:
      return "a date with a time";
    case toml::node_type::none:
      break;
  }
  return "nothing";
}

sensors::Day day_of(const toml::date& date) {
  return sensors::make_day(date.year, date.month, date.day);
}

std::chrono::milliseconds time_of(const toml::time& time) {
  using namespace std::chrono;
  return hours(time.hour) + minutes(time.minute) + seconds(time.second) +
         duration_cast<milliseconds>(nanoseconds(time.nanosecond));
}

}  // namespace

bool TomlValue::is_table() const {
  return node_->is_table();
}
bool TomlValue::is_list() const {
  return node_->is_array();
}
bool TomlValue::is_text() const {
  return node_->is_string();
}

std::string TomlValue::where() const {
  return state_->where(line_of(*node_));
}

void TomlValue::refuse(sensors::Problem problem) const {
  state_->add(line_of(*node_), std::move(problem));
}

std::nullopt_t TomlValue::wrong_type(std::string_view wanted) const {
  refuse({"wrong-type", "`" + name_ + "` must be " + std::string(wanted),
          "it is " + std::string(kind_of(*node_)), "", ""});
  return std::nullopt;
}

std::optional<std::string> TomlValue::text() const {
  if (const auto* text = node_->as_string()) return text->get();
  return wrong_type("text in quotes");
}

std::optional<std::int64_t> TomlValue::whole() const {
  if (const auto* number = node_->as_integer()) return number->get();
  return wrong_type("a whole number");
}

std::optional<double> TomlValue::number() const {
  if (const auto* number = node_->as_integer()) return static_cast<double>(number->get());
  const auto* number = node_->as_floating_point();
  if (number == nullptr) return wrong_type("a number");
  if (std::isfinite(number->get())) return number->get();
  refuse({"out-of-range", "`" + name_ + "` must be a finite number", "", "", ""});
  return std::nullopt;
}

std::optional<bool> TomlValue::flag() const {
  if (const auto* flag = node_->as_boolean()) return flag->get();
  return wrong_type("true or false");
}

std::optional<std::chrono::milliseconds> TomlValue::duration() const {
  const auto* text = node_->as_string();
  if (text == nullptr) return wrong_type("a duration in quotes, as \"30min\"");
  const auto parsed = parse_duration(text->get());
  if (parsed) return *parsed;
  auto problem = parsed.error();
  problem.title = "`" + name_ + "` is not a duration";
  refuse(std::move(problem));
  return std::nullopt;
}

std::optional<sensors::Day> TomlValue::day() const {
  if (const auto* date = node_->as_date()) return day_of(date->get());
  return wrong_type("a date without quotes, as 2027-04-12");
}

std::optional<sensors::Instant> TomlValue::instant() const {
  const auto* date_time = node_->as_date_time();
  if (date_time == nullptr) return wrong_type("a date with a time, as 2027-04-12T09:30:00Z");
  const toml::date_time& at = date_time->get();
  if (!at.offset) {
    refuse({"local-time", "`" + name_ + "` has a time without an offset",
            "it names no one moment: clocks differ between places and change twice a year", "",
            "add Z or an offset such as +01:00"});
    return std::nullopt;
  }
  const std::chrono::minutes offset(at.offset->minutes);
  return sensors::Instant(day_of(at.date).time_since_epoch() + time_of(at.time) - offset);
}

std::optional<TomlTable> TomlValue::table() const {
  if (const auto* table = node_->as_table()) return TomlTable(state_, table);
  return wrong_type("a table");
}

std::vector<TomlValue> TomlValue::items() const {
  std::vector<TomlValue> items;
  const auto* list = node_->as_array();
  if (list == nullptr) {
    wrong_type("a list");
    return items;
  }
  for (const auto& node : *list) items.push_back(TomlValue(state_, &node, name_));
  return items;
}

}  // namespace takehold::daemon
