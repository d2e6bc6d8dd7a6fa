#include "daemon/watch/event.hpp"

namespace takehold::daemon {

const char* to_string(EventType type) {
  switch (type) {
    case EventType::warning:
      return "warning";
    case EventType::cleared:
      return "cleared";
    case EventType::stage:
      return "stage";
  }
  return "warning";
}

const char* to_string(WarningKind kind) {
  switch (kind) {
    case WarningKind::outside:
      return "outside";
    case WarningKind::drift:
      return "drift";
    case WarningKind::probe:
      return "probe";
    case WarningKind::conflict:
      return "conflict";
  }
  return "outside";
}

const char* to_string(Cause cause) {
  switch (cause) {
    case Cause::unknown:
      return "unknown";
    case Cause::drying:
      return "drying";
    case Cause::warming:
      return "warming";
    case Cause::cooling:
      return "cooling";
    case Cause::opened:
      return "opened";
    case Cause::saturated:
      return "saturated";
    case Cause::cycling:
      return "cycling";
    case Cause::silent:
      return "silent";
    case Cause::stuck:
      return "stuck";
    case Cause::jumping:
      return "jumping";
    case Cause::range:
      return "range";
    case Cause::disagrees:
      return "disagrees";
    case Cause::wet:
      return "wet";
  }
  return "unknown";
}

}  // namespace takehold::daemon
