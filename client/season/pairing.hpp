// What the grower wants: scions on rootstocks, and plants on their own roots.
#pragma once

#include <optional>
#include <string>

#include "client/season/seed.hpp"

namespace takehold::client {

/// A scion on a rootstock. The sheet knows a pairing by its two names, the book also by "P3".
struct Pairing {
  static constexpr Kind kKind = Kind::pairing;
  std::string id{};         ///< "P3"; empty while it stands only in a sheet
  std::string scion{};      ///< a variety
  std::string rootstock{};  ///< another variety
  int want = 1;             ///< finished plants wanted
  double weight = 1.0;      ///< how much it matters when seed is scarce; above 0
  Method method = Method::splice;
  std::optional<std::string> scion_lot{};
  std::optional<std::string> rootstock_lot{};
  std::optional<Day> ready_on{};  ///< left out: the season's

  std::string key() const { return id; }
  /// "Scion/Rootstock"
  std::string names() const { return scion + "/" + rootstock; }
  bool operator==(const Pairing&) const = default;
};
template <class V, Is<Pairing> T>
void visit_fields(V& v, T& t) {
  v(field("id").own(), t.id);
  v(field("scion").of(Kind::variety).needed(), t.scion);
  v(field("rootstock").of(Kind::variety).needed(), t.rootstock);
  v(field("want").needed(), t.want);
  v(field("weight"), t.weight);
  v(field("method"), t.method);
  v(field("scion_lot").of(Kind::lot), t.scion_lot);
  v(field("rootstock_lot").of(Kind::lot), t.rootstock_lot);
  v(field("ready_on"), t.ready_on);
}

/// Plants of a variety raised ungrafted. One a variety.
struct OwnRoot {
  static constexpr Kind kKind = Kind::own_root;
  std::string variety{};
  int want = 1;

  std::string key() const { return variety; }
  bool operator==(const OwnRoot&) const = default;
};
template <class V, Is<OwnRoot> T>
void visit_fields(V& v, T& t) {
  v(field("variety").of(Kind::variety).needed(), t.variety);
  v(field("want").needed(), t.want);
}

}  // namespace takehold::client
