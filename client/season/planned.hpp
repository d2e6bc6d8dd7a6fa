// The plan the grower accepted, line by line: what `today` reminds of and `done` records.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "client/season/sowing.hpp"

namespace takehold::client {

/// A lot to sow on a day.
struct PlannedSowing {
  static constexpr Kind kKind = Kind::planned_sowing;
  std::string id{};
  std::string lot{};
  Day sow_on{};
  int seeds = 0;
  int cells = 0;
  Side side = Side::scion;
  std::vector<std::string> pairings{};  ///< whom it is for: "P3"; empty for own roots

  std::string key() const { return id; }
  bool operator==(const PlannedSowing&) const = default;
};
template <class V, Is<PlannedSowing> T>
void visit_fields(V& v, T& t) {
  v(field("id"), t.id);
  v(field("lot").of(Kind::lot), t.lot);
  v(field("sow_on"), t.sow_on);
  v(field("seeds"), t.seeds);
  v(field("cells"), t.cells);
  v(field("side"), t.side);
  v(field("pairings").of(Kind::pairing), t.pairings);
}

/// A pairing to graft on a day.
struct PlannedGraft {
  static constexpr Kind kKind = Kind::planned_graft;
  std::string id{};
  std::string pairing{};
  Day graft_on{};
  int grafts = 0;
  std::optional<double> probability{};  ///< of all that are wanted finished in time, as promised

  std::string key() const { return id; }
  bool operator==(const PlannedGraft&) const = default;
};
template <class V, Is<PlannedGraft> T>
void visit_fields(V& v, T& t) {
  v(field("id"), t.id);
  v(field("pairing").of(Kind::pairing), t.pairing);
  v(field("graft_on"), t.graft_on);
  v(field("grafts"), t.grafts);
  v(field("probability"), t.probability);
}

}  // namespace takehold::client
