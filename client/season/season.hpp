// The season's own settings: when, where, how sure, with what equipment.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "client/season/field.hpp"
#include "client/season/words.hpp"
#include "sensors/quantity/calendar.hpp"

namespace takehold::client {

using sensors::Day;

/// Days on which nobody sows or grafts; both ends belong to it.
struct Away {
  Day from{};
  Day to{};
  bool operator==(const Away&) const = default;
};
template <class V, Is<Away> T>
void visit_fields(V& v, T& t) {
  v(field("from"), t.from);
  v(field("to"), t.to);
}

/// One a book. Everything but `season` and `ready_on` has a meaning when left out.
struct Season {
  static constexpr Kind kKind = Kind::season;
  std::string season{};  ///< its name: "2027"
  Day ready_on{};        ///< hardened, ready to set out
  double confidence = 0.90;
  Units units = Units::metric;
  std::optional<std::string> time_zone{};  ///< a book keeps the one it was made with
  std::vector<Weekday> free_days{};        ///< empty: any day
  std::vector<Away> away{};
  int cells_per_tray = 6;
  int seeds_per_cell = 2;
  std::optional<double> cell_price{};
  std::optional<double> graft_price{};
  double tolerance_pct = 10;  ///< of the mean diameter of a pair
  int window_days = 2;        ///< graft on the best day within so many of the planned one
  std::optional<int> grafts_per_day{};
  std::string regime = "steady";
  std::optional<int> places{};  ///< in the chamber

  std::string key() const { return "season"; }
  bool operator==(const Season&) const = default;
};
template <class V, Is<Season> T>
void visit_fields(V& v, T& t) {
  v(field("season").needed(), t.season);
  v(field("ready_on").needed(), t.ready_on);
  v(field("confidence"), t.confidence);
  v(field("units"), t.units);
  v(field("time_zone"), t.time_zone);
  v(field("free_days"), t.free_days);
  v(field("away"), t.away);
  v(field("cells_per_tray").in("nursery"), t.cells_per_tray);
  v(field("seeds_per_cell").in("nursery"), t.seeds_per_cell);
  v(field("cell_price").in("nursery"), t.cell_price);
  v(field("graft_price").in("nursery"), t.graft_price);
  v(field("tolerance_pct").in("grafting"), t.tolerance_pct);
  v(field("window_days").in("grafting"), t.window_days);
  v(field("grafts_per_day").in("grafting"), t.grafts_per_day);
  v(field("regime").in("grafting"), t.regime);
  v(field("chamber_places").in("chamber", "places"), t.places);
}

/// A season that is over: nothing more is recorded in it.
struct SeasonClose {
  static constexpr Kind kKind = Kind::season_close;
  std::string id{};
  std::string season{};  ///< its name
  sensors::Instant at{};
  std::string note{};

  std::string key() const { return id; }
  bool operator==(const SeasonClose&) const = default;
};
template <class V, Is<SeasonClose> T>
void visit_fields(V& v, T& t) {
  v(field("id"), t.id);
  v(field("season"), t.season);
  v(field("at"), t.at);
  v(field("note"), t.note);
}

}  // namespace takehold::client
