// Varieties and the seed there is of them.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "client/season/field.hpp"
#include "client/season/words.hpp"
#include "sensors/quantity/calendar.hpp"

namespace takehold::client {

using sensors::Day;
using sensors::Instant;

/// A kind of tomato, by the grower's name for it.
struct Variety {
  static constexpr Kind kKind = Kind::variety;
  std::string name{};
  Role role = Role::both;
  Species species = Species::lycopersicum;
  std::optional<Habit> habit{};
  std::optional<std::string> fruit{};
  std::string resists{};  ///< "HR: ToMV:0-2, Fol:0,1; IR: Ma"; empty: not known
  TmvGenes tmv_genes = TmvGenes::unknown;

  std::string key() const { return name; }
  bool operator==(const Variety&) const = default;
};
template <class V, Is<Variety> T>
void visit_fields(V& v, T& t) {
  v(field("name").needed(), t.name);
  v(field("role"), t.role);
  v(field("species"), t.species);
  v(field("habit"), t.habit);
  v(field("fruit"), t.fruit);
  v(field("resists"), t.resists);
  v(field("tmv_genes"), t.tmv_genes);
}

/// One packet, or one saved batch of seed. `seeds` is what was counted, not what is left of it:
/// that is Book::on_hand.
struct Lot {
  static constexpr Kind kKind = Kind::lot;
  std::string label{};  ///< [A-Za-z0-9._-]{1,32}
  std::string variety{};
  std::optional<int> year{};  ///< of harvest or packing
  int seeds = 0;
  std::optional<double> price{};      ///< of the packet, in the grower's money
  std::optional<int> packet_seeds{};  ///< how many the price buys; left out: `seeds`
  std::optional<Origin> origin{};

  std::string key() const { return label; }
  bool operator==(const Lot&) const = default;
};
template <class V, Is<Lot> T>
void visit_fields(V& v, T& t) {
  v(field("label").needed(), t.label);
  v(field("variety").of(Kind::variety).needed(), t.variety);
  v(field("year"), t.year);
  v(field("seeds").needed(), t.seeds);
  v(field("price"), t.price);
  v(field("packet_seeds"), t.packet_seeds);
  v(field("origin"), t.origin);
}

/// A germination test: `sprouted` of `sown` seeds, read on that day. One a lot and day.
struct LotTest {
  static constexpr Kind kKind = Kind::lot_test;
  std::string lot{};
  Day on{};
  int sprouted = 0;
  int sown = 0;

  std::string key() const { return lot + "@" + sensors::to_string(on); }
  bool operator==(const LotTest&) const = default;
};
template <class V, Is<LotTest> T>
void visit_fields(V& v, T& t) {
  v(field("lot").of(Kind::lot).own(), t.lot);
  v(field("on").needed(), t.on);
  v(field("sprouted").needed(), t.sprouted);
  v(field("sown").needed(), t.sown);
}

/// Seeds of a lot counted. Written by the book itself whenever Lot::seeds is set to another number;
/// what was sown before the newest count is already missing from it.
struct SeedCount {
  static constexpr Kind kKind = Kind::seed_count;
  std::string id{};
  std::string lot{};
  int seeds = 0;

  std::string key() const { return id; }
  bool operator==(const SeedCount&) const = default;
};
template <class V, Is<SeedCount> T>
void visit_fields(V& v, T& t) {
  v(field("id"), t.id);
  v(field("lot").of(Kind::lot), t.lot);
  v(field("seeds"), t.seeds);
}

}  // namespace takehold::client
