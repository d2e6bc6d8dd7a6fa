// Which request means what. Pure: a method and a target in, a route or a refusal out.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>

#include "daemon/api/problem_document.hpp"
#include "sensors/quantity/calendar.hpp"

namespace takehold::daemon {

inline constexpr int kInterfaceVersion = 1;

enum class RouteName {
  page,                 ///< GET /
  status,               ///< GET /v1/status
  readings,             ///< GET /v1/readings
  push_readings,        ///< POST /v1/readings
  live,                 ///< GET /v1/live
  occupants,            ///< GET /v1/occupants
  put_occupant,         ///< PUT /v1/occupants/{label}
  delete_occupant,      ///< DELETE /v1/occupants/{label}
  warnings,             ///< GET /v1/warnings
  acknowledge_warning,  ///< POST /v1/warnings/{id}/acknowledge
  shelve_warning,       ///< POST /v1/warnings/{id}/shelve
  exposure,             ///< GET /v1/exposure/{label}
};

struct Route {
  RouteName name = RouteName::page;
  std::string about;                         ///< the {label} or {id}, decoded and checked
  std::map<std::string, std::string> query;  ///< decoded; of a name given twice the last
  bool writes() const;                       ///< needs a token over TCP
};

/// HEAD is taken as GET. Refusals: 400 "bad-target", 404 "no-such-path" or "bad-label",
/// 405 "method-not-allowed".
ApiResult<Route> route_of(std::string_view method, std::string_view target);

/// For the Allow header of a 405: "GET, POST". Empty if there is no such path.
std::string allowed_methods(std::string_view target);

/// Batch labels: [A-Za-z0-9._-]{1,32}.
bool is_label(std::string_view text);

/// What GET /v1/readings asks for. At most kMostBuckets points.
struct ReadingsQuery {
  std::optional<std::string> probe;  ///< none: every probe
  sensors::Instant from, to;         ///< [from, to)
  int points = 500;
};
inline constexpr int kMostBuckets = 2000;

/// Default: the 24 h before `now`. 422 "bad-instant", "bad-span", "bad-points".
ApiResult<ReadingsQuery> readings_query(const Route& route, sensors::Instant now);

}  // namespace takehold::daemon
