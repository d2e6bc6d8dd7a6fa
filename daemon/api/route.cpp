#include "daemon/api/route.hpp"

#include <algorithm>
#include <array>
#include <boost/url/parse.hpp>
#include <boost/url/url_view.hpp>
#include <charconv>
#include <vector>

namespace takehold::daemon {
namespace {

using sensors::Problem;
using Segments = std::vector<std::string>;

struct Row {
  std::string_view method;
  std::array<std::string_view, 4> path;  ///< "*" is the label or id; empty: no more
  RouteName name;
};

constexpr std::array kRows = {
    Row{"GET", {}, RouteName::page},
    Row{"GET", {"v1", "status"}, RouteName::status},
    Row{"GET", {"v1", "readings"}, RouteName::readings},
    Row{"POST", {"v1", "readings"}, RouteName::push_readings},
    Row{"GET", {"v1", "live"}, RouteName::live},
    Row{"GET", {"v1", "occupants"}, RouteName::occupants},
    Row{"PUT", {"v1", "occupants", "*"}, RouteName::put_occupant},
    Row{"DELETE", {"v1", "occupants", "*"}, RouteName::delete_occupant},
    Row{"GET", {"v1", "warnings"}, RouteName::warnings},
    Row{"POST", {"v1", "warnings", "*", "acknowledge"}, RouteName::acknowledge_warning},
    Row{"POST", {"v1", "warnings", "*", "shelve"}, RouteName::shelve_warning},
    Row{"GET", {"v1", "exposure", "*"}, RouteName::exposure},
};

std::size_t length_of(const Row& row) {
  return static_cast<std::size_t>(std::find(row.path.begin(), row.path.end(), std::string_view()) -
                                  row.path.begin());
}

bool fits(const Row& row, const Segments& segments) {
  if (segments.size() != length_of(row)) return false;
  for (std::size_t i = 0; i < segments.size(); ++i) {
    if (row.path[i] != "*" && row.path[i] != segments[i]) return false;
  }
  return true;
}

std::optional<boost::urls::url_view> parsed(std::string_view target) {
  const auto url = boost::urls::parse_origin_form({target.data(), target.size()});
  if (!url) return std::nullopt;
  return *url;
}

Segments segments_of(const boost::urls::url_view& url) {
  Segments segments;
  for (const auto segment : url.segments()) segments.push_back(segment);
  return segments;
}

std::string about_of(const Row& row, const Segments& segments) {
  for (std::size_t i = 0; i < segments.size(); ++i) {
    if (row.path[i] == "*") return segments[i];
  }
  return "";
}

std::map<std::string, std::string> query_of(const boost::urls::url_view& url) {
  std::map<std::string, std::string> query;
  for (const auto parameter : url.params()) query[parameter.key] = parameter.value;
  return query;
}

/// A query's value, or what is wrong with it.
ApiResult<std::optional<sensors::Instant>> instant_in(const Route& route, const char* key) {
  const auto found = route.query.find(key);
  if (found == route.query.end()) return std::optional<sensors::Instant>();
  const auto instant = sensors::parse_instant(found->second);
  if (instant) return std::optional(*instant);
  Problem problem = instant.error();
  problem.where = key;
  return ApiProblem{422, std::move(problem)};
}

}  // namespace

bool Route::writes() const {
  switch (name) {
    case RouteName::push_readings:
    case RouteName::put_occupant:
    case RouteName::delete_occupant:
    case RouteName::acknowledge_warning:
    case RouteName::shelve_warning:
      return true;
    case RouteName::page:
    case RouteName::status:
    case RouteName::readings:
    case RouteName::live:
    case RouteName::occupants:
    case RouteName::warnings:
    case RouteName::exposure:
      return false;
  }
  return true;
}

bool is_label(std::string_view text) {
  constexpr std::string_view kLetters =
      "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789._-";
  return !text.empty() && text.size() <= 32 &&
         text.find_first_not_of(kLetters) == std::string_view::npos;
}

std::string allowed_methods(std::string_view target) {
  const auto url = parsed(target);
  std::string methods;
  if (!url) return methods;
  const auto segments = segments_of(*url);
  for (const Row& row : kRows) {
    if (fits(row, segments)) methods += (methods.empty() ? "" : ", ") + std::string(row.method);
  }
  return methods;
}

ApiResult<Route> route_of(std::string_view method, std::string_view target) {
  const auto url = parsed(target);
  if (!url) {
    return ApiProblem{400,
                      {"bad-target", "the address of this request cannot be read", "", "", ""}};
  }
  const auto segments = segments_of(*url);
  const std::string_view wanted = method == "HEAD" ? "GET" : method;
  for (const Row& row : kRows) {
    if (row.method != wanted || !fits(row, segments)) continue;
    Route route{row.name, about_of(row, segments), query_of(*url)};
    const bool names_something = row.path.end() != std::find(row.path.begin(), row.path.end(), "*");
    if (names_something && !is_label(route.about)) {
      return ApiProblem{404,
                        {"bad-label", "no such label", "", route.about,
                         "labels are 1 to 32 of A-Z a-z 0-9 . _ -"}};
    }
    return route;
  }
  if (const auto methods = allowed_methods(target); !methods.empty()) {
    return ApiProblem{405,
                      {"method-not-allowed", "this address takes only " + methods, "", "", ""}};
  }
  return ApiProblem{404, {"no-such-path", "there is nothing at this address", "", "", ""}};
}

ApiResult<ReadingsQuery> readings_query(const Route& route, sensors::Instant now) {
  const auto to = instant_in(route, "to");
  if (!to) return to.error();
  const auto from = instant_in(route, "from");
  if (!from) return from.error();
  ReadingsQuery query;
  query.to = to->value_or(now);
  query.from = from->value_or(query.to - std::chrono::hours(24));
  if (query.from >= query.to) {
    return ApiProblem{422, {"bad-span", "`from` must be before `to`", "", "from", ""}};
  }
  if (const auto probe = route.query.find("probe"); probe != route.query.end()) {
    query.probe = probe->second;
  }
  if (const auto points = route.query.find("points"); points != route.query.end()) {
    const std::string& text = points->second;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), query.points);
    if (error != std::errc() || end != text.data() + text.size() || query.points < 1 ||
        query.points > kMostBuckets) {
      return ApiProblem{422,
                        {"bad-points", "`points` is a number from 1 to 2000", text, "points", ""}};
    }
  }
  return query;
}

}  // namespace takehold::daemon
