// A noun without its type, as it stands: what exports and imports carry.
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <string>

#include "client/book/record.hpp"

namespace takehold::client {

struct PlainNoun {
  Kind kind{};
  std::string key{};
  nlohmann::json fields{};             ///< by field name, as to_json gives them
  std::optional<std::int64_t> told{};  ///< rank in the order first told, from 1; none: new
  sensors::Instant entered_at{};       ///< of this version; not read back
};

/// What an import did.
struct TakenIn {
  std::optional<CommandId> command{};  ///< none: nothing changed
  std::vector<NounRef> added{};
  std::vector<NounRef> changed{};
  std::vector<NounRef> missing{};  ///< in the book and not in what was taken in; left as they are
  int unchanged = 0;
};

}  // namespace takehold::client
