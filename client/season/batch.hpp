// Grafts: a batch, what was done to it, what became of it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "client/season/sowing.hpp"

namespace takehold::client {

/// One graft of a batch: G7-3.
struct Graft {
  int number = 0;           ///< from 1
  int place = 0;            ///< of the tray, from 1
  std::string rootstock{};  ///< "S12-5"; empty: not noted
  std::string scion{};      ///< "S13-2"; empty: not noted
  std::optional<Millimetres> rootstock_diameter{};
  std::optional<Millimetres> scion_diameter{};
  bool operator==(const Graft&) const = default;
};
template <class V, Is<Graft> T>
void visit_fields(V& v, T& t) {
  v(field("number"), t.number);
  v(field("place"), t.place);
  v(field("rootstock"), t.rootstock);
  v(field("scion"), t.scion);
  v(field("rootstock_mm"), t.rootstock_diameter);
  v(field("scion_mm"), t.scion_diameter);
}

/// One pairing grafted in one session. It enters the chamber at `at`.
struct Batch {
  static constexpr Kind kKind = Kind::batch;
  std::string id{};  ///< "G7": its label in the chamber too
  std::string pairing{};
  std::string scion{};      ///< a variety, as the pairing had it then
  std::string rootstock{};  ///< a variety
  Instant at{};             ///< grafted, and put into the chamber
  Method method = Method::splice;
  std::string by{};  ///< who cut; empty: not noted
  std::vector<std::string> rootstock_sowings{};
  std::vector<std::string> scion_sowings{};
  std::vector<Graft> grafts{};
  std::string regime{};                   ///< its name
  std::string regime_plan{};              ///< the whole regime as JSON, as it was then
  std::optional<Instant> started_at{};    ///< when the first cut was made; `at` is the end
  std::optional<Millimetres> clip{};      ///< inner width of the clips
  std::optional<double> cut_angle_deg{};  ///< from the square cut, 0..90
  std::optional<double> lamp_umol{};      ///< light at the grafting bench
  std::optional<double> humidity_pct{};   ///< of the air there
  std::string repairs{};                  ///< "G6", whose failed grafts were made again; or empty
  std::string note{};

  std::string key() const { return id; }
  int count() const { return static_cast<int>(grafts.size()); }
  bool operator==(const Batch&) const = default;
};
template <class V, Is<Batch> T>
void visit_fields(V& v, T& t) {
  v(field("id"), t.id);
  v(field("pairing").of(Kind::pairing), t.pairing);
  v(field("scion").of(Kind::variety), t.scion);
  v(field("rootstock").of(Kind::variety), t.rootstock);
  v(field("at"), t.at);
  v(field("method"), t.method);
  v(field("by"), t.by);
  v(field("rootstock_sowings").of(Kind::sowing), t.rootstock_sowings);
  v(field("scion_sowings").of(Kind::sowing), t.scion_sowings);
  v(field("grafts"), t.grafts);
  v(field("regime"), t.regime);
  v(field("regime_plan"), t.regime_plan);
  v(field("started_at"), t.started_at);
  v(field("clip_mm"), t.clip);
  v(field("cut_angle_deg"), t.cut_angle_deg);
  v(field("lamp_umol"), t.lamp_umol);
  v(field("humidity_pct"), t.humidity_pct);
  v(field("repairs").of(Kind::batch), t.repairs);
  v(field("note"), t.note);
}

/// The grower's hand on a batch's stage. A stage that passes by itself is never a record.
struct BatchEvent {
  static constexpr Kind kKind = Kind::batch_event;
  std::string id{};
  std::string batch{};
  StageChange kind = StageChange::advance;
  Instant at{};
  double hours = 0;  ///< of a hold
  std::string note{};

  std::string key() const { return id; }
  bool operator==(const BatchEvent&) const = default;
};
template <class V, Is<BatchEvent> T>
void visit_fields(V& v, T& t) {
  v(field("id"), t.id);
  v(field("batch").of(Kind::batch), t.batch);
  v(field("kind"), t.kind);
  v(field("at"), t.at);
  v(field("hours"), t.hours);
  v(field("note"), t.note);
}

/// A task of a stage, done: ticked off for one batch.
struct Tending {
  static constexpr Kind kKind = Kind::tending;
  std::string id{};
  std::string batch{};
  Instant at{};
  std::string task{};               ///< what was done, as the healing plan calls it
  std::optional<Instant> due_at{};  ///< which of its hours it was done for; none: it has none
  std::optional<int> wilted{};      ///< of a look: grafts whose leaves hung; none: not told
  std::string note{};

  std::string key() const { return id; }
  bool operator==(const Tending&) const = default;
};
template <class V, Is<Tending> T>
void visit_fields(V& v, T& t) {
  v(field("id"), t.id);
  v(field("batch").of(Kind::batch), t.batch);
  v(field("at"), t.at);
  v(field("task"), t.task);
  v(field("due_at"), t.due_at);
  v(field("wilted"), t.wilted);
  v(field("note"), t.note);
}

/// Plants that died.
struct Loss {
  static constexpr Kind kKind = Kind::loss;
  std::string id{};
  std::string subject{};  ///< "S12" or "G7"
  Instant at{};
  int count = 0;
  std::vector<int> plants{};  ///< their numbers, if noted: then as many as `count`
  Cause cause = Cause::unknown;
  std::string note{};
  std::optional<LateLoss> late{};  ///< none: before a batch's takes were counted

  std::string key() const { return id; }
  bool operator==(const Loss&) const = default;
};
template <class V, Is<Loss> T>
void visit_fields(V& v, T& t) {
  v(field("id"), t.id);
  v(field("subject").of_letter(), t.subject);
  v(field("at"), t.at);
  v(field("count"), t.count);
  v(field("plants"), t.plants);
  v(field("cause"), t.cause);
  v(field("note"), t.note);
  v(field("late"), t.late);
}

/// Spares thrown out or given away: no failures.
struct Cull {
  static constexpr Kind kKind = Kind::cull;
  std::string id{};
  std::string subject{};
  Instant at{};
  int count = 0;
  std::vector<int> plants{};
  bool given = false;  ///< given away rather than thrown out
  std::string note{};

  std::string key() const { return id; }
  bool operator==(const Cull&) const = default;
};
template <class V, Is<Cull> T>
void visit_fields(V& v, T& t) {
  v(field("id"), t.id);
  v(field("subject").of_letter(), t.subject);
  v(field("at"), t.at);
  v(field("count"), t.count);
  v(field("plants"), t.plants);
  v(field("given"), t.given);
  v(field("note"), t.note);
}

/// The end of a batch in the chamber: how many took.
struct Finish {
  static constexpr Kind kKind = Kind::finish;
  std::string id{};
  std::string batch{};
  Instant at{};
  int taken = 0;
  int given = 0;       ///< of the taken, given away
  bool early = false;  ///< before day 6: stays out of rates
  std::string note{};

  std::string key() const { return id; }
  bool operator==(const Finish&) const = default;
};
template <class V, Is<Finish> T>
void visit_fields(V& v, T& t) {
  v(field("id"), t.id);
  v(field("batch").of(Kind::batch), t.batch);
  v(field("at"), t.at);
  v(field("taken"), t.taken);
  v(field("given"), t.given);
  v(field("early"), t.early);
  v(field("note"), t.note);
}

/// What a batch went through in the chamber, as the daemon told it when the batch left.
struct Exposure {
  static constexpr Kind kKind = Kind::exposure;
  std::string id{};
  std::string batch{};
  Instant at{};
  std::optional<double> observed{};  ///< share of the time with a trusted reading, 0..1
  std::string document{};            ///< the daemon's whole answer, JSON

  std::string key() const { return id; }
  bool operator==(const Exposure&) const = default;
};
template <class V, Is<Exposure> T>
void visit_fields(V& v, T& t) {
  v(field("id"), t.id);
  v(field("batch").of(Kind::batch), t.batch);
  v(field("at"), t.at);
  v(field("observed"), t.observed);
  v(field("document"), t.document);
}

}  // namespace takehold::client
