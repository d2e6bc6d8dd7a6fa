// Seedlings: sown, up, thinned, pricked out, measured, moved.
//
// Everything here happened at an instant, told by the grower (`at`); when it was told to the book
// is the book's to know (Recorded::entered_at). Seedlings of S12 are S12-1, S12-2 ... in tray
// order.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "client/season/seed.hpp"
#include "sensors/quantity/length.hpp"

namespace takehold::client {

using sensors::Millimetres;

/// One lot sown on one day.
struct Sowing {
  static constexpr Kind kKind = Kind::sowing;
  std::string id{};  ///< "S12"
  std::string lot{};
  Instant at{};
  int seeds = 0;
  int cells = 0;
  std::string bench{};                   ///< where it starts; empty: the season's first
  std::optional<Side> side{};            ///< what it is for, if that was said
  std::vector<std::string> pairings{};   ///< "P3": whom it is for, if that was said
  std::optional<std::string> planned{};  ///< the line of the accepted plan it fulfils
  std::string note{};

  std::string key() const { return id; }
  bool operator==(const Sowing&) const = default;
};
template <class V, Is<Sowing> T>
void visit_fields(V& v, T& t) {
  v(field("id"), t.id);
  v(field("lot").of(Kind::lot), t.lot);
  v(field("at"), t.at);
  v(field("seeds"), t.seeds);
  v(field("cells"), t.cells);
  v(field("bench").of(Kind::bench), t.bench);
  v(field("side"), t.side);
  v(field("pairings").of(Kind::pairing), t.pairings);
  v(field("planned").of(Kind::planned_sowing), t.planned);
  v(field("note"), t.note);
}

/// Plants standing: a total, not so many more.
struct Emerged {
  static constexpr Kind kKind = Kind::emerged;
  std::string id{};
  std::string sowing{};
  Instant at{};
  int standing = 0;
  std::string note{};

  std::string key() const { return id; }
  bool operator==(const Emerged&) const = default;
};
template <class V, Is<Emerged> T>
void visit_fields(V& v, T& t) {
  v(field("id"), t.id);
  v(field("sowing").of(Kind::sowing), t.sowing);
  v(field("at"), t.at);
  v(field("standing"), t.standing);
  v(field("note"), t.note);
}

/// Seedlings taken out because a cell held too many: no failures.
struct Thinning {
  static constexpr Kind kKind = Kind::thinning;
  std::string id{};
  std::string sowing{};
  Instant at{};
  int removed = 0;
  std::string note{};

  std::string key() const { return id; }
  bool operator==(const Thinning&) const = default;
};
template <class V, Is<Thinning> T>
void visit_fields(V& v, T& t) {
  v(field("id"), t.id);
  v(field("sowing").of(Kind::sowing), t.sowing);
  v(field("at"), t.at);
  v(field("removed"), t.removed);
  v(field("note"), t.note);
}

/// Seedlings set into cells of their own.
struct Pricking {
  static constexpr Kind kKind = Kind::pricking;
  std::string id{};
  std::string sowing{};
  Instant at{};
  int plants = 0;
  std::string note{};

  std::string key() const { return id; }
  bool operator==(const Pricking&) const = default;
};
template <class V, Is<Pricking> T>
void visit_fields(V& v, T& t) {
  v(field("id"), t.id);
  v(field("sowing").of(Kind::sowing), t.sowing);
  v(field("at"), t.at);
  v(field("plants"), t.plants);
  v(field("note"), t.note);
}

/// One seedling under the calliper, below the cotyledons.
struct Stem {
  int number = 0;  ///< 5 of "S12-5", from 1
  Millimetres diameter = Millimetres::mm(0);
  bool operator==(const Stem&) const = default;
};
template <class V, Is<Stem> T>
void visit_fields(V& v, T& t) {
  v(field("number"), t.number);
  v(field("diameter_mm"), t.diameter);
}

/// Stems of a sowing measured on one occasion.
struct Measurement {
  static constexpr Kind kKind = Kind::measurement;
  std::string id{};
  std::string sowing{};
  Instant at{};
  std::vector<Stem> stems{};
  bool full = false;  ///< every standing seedling was measured
  std::string note{};

  std::string key() const { return id; }
  bool operator==(const Measurement&) const = default;
};
template <class V, Is<Measurement> T>
void visit_fields(V& v, T& t) {
  v(field("id"), t.id);
  v(field("sowing").of(Kind::sowing), t.sowing);
  v(field("at"), t.at);
  v(field("stems"), t.stems);
  v(field("full"), t.full);
  v(field("note"), t.note);
}

/// Trays carried elsewhere: a sowing or a batch.
struct Move {
  static constexpr Kind kKind = Kind::move;
  std::string id{};
  std::string subject{};  ///< "S12" or "G7"
  Instant at{};
  std::string to{};  ///< a bench's name, or "chamber"
  std::string note{};

  std::string key() const { return id; }
  bool operator==(const Move&) const = default;
};
template <class V, Is<Move> T>
void visit_fields(V& v, T& t) {
  v(field("id"), t.id);
  v(field("subject").of_letter(), t.subject);
  v(field("at"), t.at);
  v(field("to"), t.to);
  v(field("note"), t.note);
}

/// The place name that means the healing chamber and no bench.
inline constexpr std::string_view kChamber = "chamber";

}  // namespace takehold::client
