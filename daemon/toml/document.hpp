// Checked reading of TOML: settings, season sheets, regimes.
//
// A reader asks for the keys it knows. Whatever is wrong (a missing key, a wrong type, a number out
// of bounds, a key nobody asked for) is kept with its file and line, and reading goes on, so that a
// person sees all mistakes at once:
//
//   auto document = parse_toml(text, "sheet.toml").value();
//   TomlTable root = document.root();
//   const auto season = root.need_text("season");
//   for (const TomlTable& lot : root.tables("lot")) { ... lot.need_text("label") ... }
//   document.refuse_mistakes();   // throws if there were any; only now trust what was read
//
// A getter gives nullopt both for a key that is not there and for one that is wrong; a `need_`
// getter gives an empty value for both. Tables and values point into their document and share its
// life: copies are cheap, one thread at a time.
#pragma once

#include <chrono>
#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "sensors/quantity/calendar.hpp"
#include "sensors/quantity/problem.hpp"

namespace toml {
inline namespace v3 {
class node;
class table;
}  // namespace v3
}  // namespace toml

namespace takehold::daemon {

class TomlTable;
struct TomlState;

/// One value, wherever it stands. The typed getters record a mistake when the type is another.
class TomlValue {
 public:
  bool is_table() const;
  bool is_list() const;
  bool is_text() const;

  std::optional<std::string> text() const;
  std::optional<std::int64_t> whole() const;
  std::optional<double> number() const;  ///< whole numbers too; finite
  std::optional<bool> flag() const;
  std::optional<std::chrono::milliseconds> duration() const;  ///< of text such as "30min"
  std::optional<sensors::Day> day() const;
  /// Of a date-time with offset. One without is a mistake, saying why.
  std::optional<sensors::Instant> instant() const;
  std::optional<TomlTable> table() const;
  std::vector<TomlValue> items() const;  ///< of a list

  std::string where() const;  ///< "sheet.toml:12"
  /// Records a mistake found by the reader in this value; `where` is filled in.
  void refuse(sensors::Problem problem) const;

 private:
  friend class TomlTable;
  TomlValue(std::shared_ptr<TomlState> state, const toml::node* node, std::string name)
      : state_(std::move(state)), node_(node), name_(std::move(name)) {}
  std::nullopt_t wrong_type(std::string_view wanted) const;

  std::shared_ptr<TomlState> state_;
  const toml::node* node_;
  std::string name_;  ///< the key it stands under, for messages
};

class TomlTable {
 public:
  bool has(std::string_view key) const;
  /// Keys that are there, in alphabetical order: for tables whose keys are names.
  std::vector<std::string> keys() const;
  std::optional<TomlValue> value(std::string_view key) const;

  std::optional<std::string> text(std::string_view key) const;
  std::optional<std::int64_t> whole(std::string_view key) const;
  std::optional<double> number(std::string_view key) const;
  std::optional<bool> flag(std::string_view key) const;
  std::optional<std::chrono::milliseconds> duration(std::string_view key) const;
  std::optional<sensors::Day> day(std::string_view key) const;
  std::optional<sensors::Instant> instant(std::string_view key) const;
  std::optional<TomlTable> table(std::string_view key) const;
  std::vector<TomlTable> tables(std::string_view key) const;  ///< [[key]]; empty if not there
  std::optional<std::vector<TomlValue>> list(std::string_view key) const;
  std::optional<std::vector<std::string>> texts(std::string_view key) const;
  std::optional<std::vector<double>> numbers(std::string_view key) const;

  /// Bounds are inclusive; outside is a mistake, code "out-of-range".
  std::optional<std::int64_t> whole(std::string_view key, std::int64_t low,
                                    std::int64_t high) const;
  std::optional<double> number(std::string_view key, double low, double high) const;
  /// A text that is one of `names`; else a mistake "unknown-value" that lists them.
  std::optional<std::string> choice(std::string_view key,
                                    const std::vector<std::string>& names) const;

  /// Not there: a mistake "missing-key" at the line of the table.
  std::string need_text(std::string_view key) const;
  std::int64_t need_whole(std::string_view key) const;
  double need_number(std::string_view key) const;
  std::chrono::milliseconds need_duration(std::string_view key) const;
  sensors::Day need_day(std::string_view key) const;
  sensors::Instant need_instant(std::string_view key) const;

  std::string where() const;                      ///< of the table
  std::string where(std::string_view key) const;  ///< of the key, or of the table without it
  void refuse(sensors::Problem problem) const;    ///< a mistake in the table as a whole
  void refuse(std::string_view key, sensors::Problem problem) const;

 private:
  friend class TomlDocument;
  friend class TomlValue;
  TomlTable(std::shared_ptr<TomlState> state, const toml::table* table);
  void missing(std::string_view key) const;
  template <class T>
  T need(std::optional<T> found, std::string_view key) const;

  std::shared_ptr<TomlState> state_;
  const toml::table* table_;
};

class TomlDocument {
 public:
  TomlTable root() const;
  const std::string& file() const;

  /// All mistakes so far in the order of their lines, among them each key that no reader asked for
  /// (code "unknown-key", with the nearest name that was). Call it after reading.
  std::vector<sensors::Problem> mistakes() const;
  /// Throws Refused if there is a mistake. Several become one Problem, one sentence a line, with
  /// code and place of the first.
  void refuse_mistakes() const;

 private:
  friend sensors::Result<TomlDocument> parse_toml(std::string_view text, std::string file);
  explicit TomlDocument(std::shared_ptr<TomlState> state) : state_(std::move(state)) {}
  std::shared_ptr<TomlState> state_;
};

/// `file` is for messages only. Text that is no TOML, a date that does not exist, a key given
/// twice: code "bad-toml".
sensors::Result<TomlDocument> parse_toml(std::string_view text, std::string file);

/// Reads and parses. Codes "no-file", "too-large" (over 4 MiB), "bad-toml".
sensors::Result<TomlDocument> load_toml(const std::filesystem::path& path);

/// Several mistakes as one Problem, see refuse_mistakes. `mistakes` must not be empty.
sensors::Problem joined(const std::vector<sensors::Problem>& mistakes);

}  // namespace takehold::daemon
