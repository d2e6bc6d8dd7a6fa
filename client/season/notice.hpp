// What the daemon has to be told about a batch, on its way there.
//
// The book writes notices in the transaction that records, the link delivers them; each knows only
// this page. There is at most one notice a label: the newest state replaces one not yet delivered.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "sensors/quantity/calendar.hpp"

namespace takehold::client {

/// The newest state of one label, to be sent to /v1/occupants/{label}.
struct Notice {
  std::string label{};
  std::int64_t revision = 0;          ///< rises by one with every new state of the label
  std::optional<std::string> body{};  ///< JSON for a PUT; none: the label left, a DELETE
  sensors::Instant at{};              ///< when that state began
  int tries = 0;                      ///< how often it was sent in vain
  std::string trouble{};              ///< why the last try failed; or empty
  bool parked = false;                ///< the daemon refused it: not tried again by itself
};

/// What became of one try to deliver.
enum class Delivery {
  delivered,  ///< the daemon has it, or has something newer
  kept,       ///< no answer: try again with the next command
  parked,     ///< refused (4xx): trying again would not help
};

struct DeliveryOutcome {
  std::string label{};
  std::int64_t revision = 0;
  Delivery delivery = Delivery::kept;
  std::string trouble{};  ///< for people; empty if delivered
  /// What the daemon has of this label. Above `revision` where this book was put back from an older
  /// copy: it then took nothing over.
  std::optional<std::int64_t> known_revision{};

  bool is_behind() const { return known_revision && *known_revision > revision; }
};

}  // namespace takehold::client
