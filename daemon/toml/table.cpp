#include <algorithm>
#include <array>
#include <cstdio>

#include "daemon/toml/document.hpp"
#include "daemon/toml/nearest.hpp"
#include "daemon/toml/state.hpp"

namespace takehold::daemon {
namespace {

std::string number_text(double number) {
  std::array<char, 32> buffer;
  std::snprintf(buffer.data(), buffer.size(), "%.10g", number);
  return buffer.data();
}

sensors::Problem out_of_range(std::string_view key, double is, double low, double high) {
  return {"out-of-range",
          "`" + std::string(key) + "` must lie within " + number_text(low) + " and " +
              number_text(high),
          "it is " + number_text(is), "", ""};
}

}  // namespace

TomlTable::TomlTable(std::shared_ptr<TomlState> state, const toml::table* table)
    : state_(std::move(state)), table_(table) {
  state_->asked[table_];  // looked into: from now on its keys must be asked for
}

bool TomlTable::has(std::string_view key) const {
  state_->asked[table_].emplace(key);
  return table_->contains(key);
}

std::vector<std::string> TomlTable::keys() const {
  std::vector<std::string> keys;
  for (const auto& [key, node] : *table_) keys.emplace_back(key.str());
  return keys;
}

std::optional<TomlValue> TomlTable::value(std::string_view key) const {
  if (!has(key)) return std::nullopt;
  return TomlValue(state_, table_->get(key), std::string(key));
}

std::optional<std::string> TomlTable::text(std::string_view key) const {
  const auto found = value(key);
  return found ? found->text() : std::nullopt;
}

std::optional<std::int64_t> TomlTable::whole(std::string_view key) const {
  const auto found = value(key);
  return found ? found->whole() : std::nullopt;
}

std::optional<double> TomlTable::number(std::string_view key) const {
  const auto found = value(key);
  return found ? found->number() : std::nullopt;
}

std::optional<bool> TomlTable::flag(std::string_view key) const {
  const auto found = value(key);
  return found ? found->flag() : std::nullopt;
}

std::optional<std::chrono::milliseconds> TomlTable::duration(std::string_view key) const {
  const auto found = value(key);
  return found ? found->duration() : std::nullopt;
}

std::optional<sensors::Day> TomlTable::day(std::string_view key) const {
  const auto found = value(key);
  return found ? found->day() : std::nullopt;
}

std::optional<sensors::Instant> TomlTable::instant(std::string_view key) const {
  const auto found = value(key);
  return found ? found->instant() : std::nullopt;
}

std::optional<TomlTable> TomlTable::table(std::string_view key) const {
  const auto found = value(key);
  return found ? found->table() : std::nullopt;
}

std::vector<TomlTable> TomlTable::tables(std::string_view key) const {
  std::vector<TomlTable> tables;
  const auto found = value(key);
  if (!found) return tables;
  for (const auto& item : found->items()) {
    if (const auto table = item.table()) tables.push_back(*table);
  }
  return tables;
}

std::optional<std::vector<TomlValue>> TomlTable::list(std::string_view key) const {
  const auto found = value(key);
  if (!found) return std::nullopt;
  return found->items();
}

std::optional<std::vector<std::string>> TomlTable::texts(std::string_view key) const {
  const auto items = list(key);
  if (!items) return std::nullopt;
  std::vector<std::string> texts;
  for (const auto& item : *items) {
    if (auto text = item.text()) texts.push_back(std::move(*text));
  }
  return texts;
}

std::optional<std::vector<double>> TomlTable::numbers(std::string_view key) const {
  const auto items = list(key);
  if (!items) return std::nullopt;
  std::vector<double> numbers;
  for (const auto& item : *items) {
    if (const auto number = item.number()) numbers.push_back(*number);
  }
  return numbers;
}

std::optional<std::int64_t> TomlTable::whole(std::string_view key, std::int64_t low,
                                             std::int64_t high) const {
  const auto found = whole(key);
  if (!found || (low <= *found && *found <= high)) return found;
  refuse(key, out_of_range(key, static_cast<double>(*found), static_cast<double>(low),
                           static_cast<double>(high)));
  return std::nullopt;
}

std::optional<double> TomlTable::number(std::string_view key, double low, double high) const {
  const auto found = number(key);
  if (!found || (low <= *found && *found <= high)) return found;
  refuse(key, out_of_range(key, *found, low, high));
  return std::nullopt;
}

std::optional<std::string> TomlTable::choice(std::string_view key,
                                             const std::vector<std::string>& names) const {
  const auto found = text(key);
  if (!found || std::find(names.begin(), names.end(), *found) != names.end()) return found;
  std::string all;
  for (const auto& name : names) all += (all.empty() ? "" : ", ") + name;
  const auto nearest = nearest_name(*found, names);
  refuse(key, {"unknown-value", "`" + std::string(key) + "` cannot be \"" + *found + "\"",
               "it is one of: " + all, "", nearest.empty() ? "" : "did you mean " + nearest + "?"});
  return std::nullopt;
}

void TomlTable::missing(std::string_view key) const {
  refuse({"missing-key", "`" + std::string(key) + "` is missing", "", "", ""});
}

template <class T>
T TomlTable::need(std::optional<T> found, std::string_view key) const {
  if (!found && !table_->contains(key)) missing(key);
  return found ? std::move(*found) : T{};
}

std::string TomlTable::need_text(std::string_view key) const {
  return need(text(key), key);
}
std::int64_t TomlTable::need_whole(std::string_view key) const {
  return need(whole(key), key);
}
double TomlTable::need_number(std::string_view key) const {
  return need(number(key), key);
}
std::chrono::milliseconds TomlTable::need_duration(std::string_view key) const {
  return need(duration(key), key);
}
sensors::Day TomlTable::need_day(std::string_view key) const {
  return need(day(key), key);
}
sensors::Instant TomlTable::need_instant(std::string_view key) const {
  return need(instant(key), key);
}

std::string TomlTable::where() const {
  return state_->where(line_of(*table_));
}

std::string TomlTable::where(std::string_view key) const {
  const auto* node = table_->get(key);
  return node == nullptr ? where() : state_->where(line_of(*node));
}

void TomlTable::refuse(sensors::Problem problem) const {
  state_->add(line_of(*table_), std::move(problem));
}

void TomlTable::refuse(std::string_view key, sensors::Problem problem) const {
  const auto* node = table_->get(key);
  state_->add(node == nullptr ? line_of(*table_) : line_of(*node), std::move(problem));
}

}  // namespace takehold::daemon
