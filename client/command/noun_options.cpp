#include "client/command/noun_options.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>

namespace takehold::client {

std::string option_of_field(std::string_view name) {
  std::string option = "--" + std::string(name);
  std::replace(option.begin(), option.end(), '_', '-');
  return option;
}

int whole_from(const std::string& text, const std::string& option) {
  int value = 0;
  const char* end = text.data() + text.size();
  const auto [rest, error] = std::from_chars(text.data(), end, value);
  if (error == std::errc{} && rest == end) return value;
  throw WrongUsage({"bad-number", fmt::format("'{}' is not a whole number", text), "", option, ""});
}

double number_from(const std::string& text, const std::string& option) {
  const TypedNumber number = typed(parse_typed(text, option));
  if (number.suffix.empty()) return number.value;
  throw WrongUsage({"bad-number", fmt::format("'{}' is not a bare number", text), "", option, ""});
}

sensors::Day day_from(const std::string& text, const std::string& option) {
  const auto day = sensors::parse_day(text);
  if (day) return *day;
  sensors::Problem problem = day.error();
  problem.where = option;
  throw WrongUsage(std::move(problem));
}

void refuse_choice(const std::string& text, const std::string& option, const std::string& choices) {
  throw WrongUsage({"unknown-value", fmt::format("'{}' is not one of them", text), "", option,
                    "choose from: " + choices});
}

std::string reference_from(const Book& book, Kind kind, const std::string& text) {
  if (kind == Kind::variety) return find_typed<Variety>(book, text).key();
  if (kind == Kind::lot) return find_typed<Lot>(book, text).key();
  return text;
}

}  // namespace takehold::client
