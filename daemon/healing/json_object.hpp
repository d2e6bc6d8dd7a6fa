// Checked reading of a JSON object that came from outside.
//
// As with TOML, reading goes on after a mistake: each is kept with its JSON Pointer (RFC 6901) as
// its place. Fields that nobody asks for are ignored, so that a newer program may send more.
// A field that is null counts as not there. The object must outlive its readers.
#pragma once

#include <cstdint>
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "sensors/quantity/calendar.hpp"
#include "sensors/quantity/problem.hpp"

namespace takehold::daemon {

class JsonObject {
 public:
  /// `json` may be anything: if it is no object, that is a mistake and it reads as an empty one.
  JsonObject(const nlohmann::json& json, std::vector<sensors::Problem>& mistakes,
             std::string pointer = "");

  bool has(const char* key) const;
  /// What stands there, or null if nothing does: for a field of more than one form.
  const nlohmann::json* value(const char* key) const;
  std::optional<std::string> text(const char* key) const;
  std::optional<std::int64_t> whole(const char* key) const;
  std::optional<double> number(const char* key) const;
  std::optional<bool> flag(const char* key) const;
  std::optional<sensors::Instant> instant(const char* key) const;
  std::optional<sensors::Day> day(const char* key) const;
  std::optional<JsonObject> object(const char* key) const;
  std::vector<JsonObject> objects(const char* key) const;  ///< of a list; empty if not there
  std::vector<std::string> texts(const char* key) const;
  /// [low, high] with low <= high.
  std::optional<std::pair<double, double>> pair(const char* key) const;

  // Not there: a mistake "missing-field", and an empty value.
  std::string need_text(const char* key) const;
  std::int64_t need_whole(const char* key) const;
  double need_number(const char* key) const;
  sensors::Instant need_instant(const char* key) const;

  /// A mistake found by the reader; `where` is filled in.
  void refuse(const char* key, sensors::Problem problem) const;
  std::string pointer(const char* key) const { return pointer_ + "/" + key; }

 private:
  std::nullopt_t wrong_type(const char* key, const char* wanted) const;
  template <class T>
  T need(std::optional<T> found, const char* key) const;

  const nlohmann::json* json_;
  std::vector<sensors::Problem>* mistakes_;
  std::string pointer_;
};

}  // namespace takehold::daemon
