// After the graft: plants set out, what they bore, what was seen of them.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "client/season/field.hpp"
#include "client/season/words.hpp"
#include "sensors/quantity/calendar.hpp"
#include "sensors/quantity/length.hpp"
#include "sensors/quantity/mass.hpp"

namespace takehold::client {

using sensors::Kilograms;

/// Plants of a batch, or of a sowing on their own roots, planted where they stay.
struct SetOut {
  static constexpr Kind kKind = Kind::set_out;
  std::string id{};
  std::string subject{};  ///< "S12" or "G7"
  sensors::Instant at{};
  std::string bed{};  ///< empty: not said
  int count = 0;
  std::vector<int> plants{};  ///< their numbers, if noted: then as many as `count`
  std::optional<sensors::Millimetres> union_height{};  ///< above the soil; of a batch only
  std::string note{};

  std::string key() const { return id; }
  bool operator==(const SetOut&) const = default;
};
template <class V, Is<SetOut> T>
void visit_fields(V& v, T& t) {
  v(field("id"), t.id);
  v(field("subject").of_letter(), t.subject);
  v(field("at"), t.at);
  v(field("bed").of(Kind::bed), t.bed);
  v(field("count"), t.count);
  v(field("plants"), t.plants);
  v(field("union_height_mm"), t.union_height);
  v(field("note"), t.note);
}

/// One picking: of one plant, of all plants of a batch or sowing, or of a whole bed.
struct Harvest {
  static constexpr Kind kKind = Kind::harvest;
  std::string id{};
  std::string subject{};  ///< "S12" or "G7"; empty: a bed's plants, not told apart
  std::string bed{};      ///< empty: not said
  sensors::Instant at{};
  std::optional<int> plant{};  ///< 3 of "G7-3"; none: all of `subject`
  Kilograms weight = Kilograms::kg(0);
  std::optional<int> fruits{};
  std::string note{};

  std::string key() const { return id; }
  bool operator==(const Harvest&) const = default;
};
template <class V, Is<Harvest> T>
void visit_fields(V& v, T& t) {
  v(field("id"), t.id);
  v(field("subject").of_letter(), t.subject);
  v(field("bed").of(Kind::bed), t.bed);
  v(field("at"), t.at);
  v(field("plant"), t.plant);
  v(field("weight_kg"), t.weight);
  v(field("fruits"), t.fruits);
  v(field("note"), t.note);
}

/// What a remark is about. The first three are scored.
enum class RemarkAbout { taste, looks, vigour, disease, scion_roots, sucker, other };
template <>
struct EnumNames<RemarkAbout> {
  static constexpr Spelling<RemarkAbout, 7> value{{{RemarkAbout::taste, "taste"},
                                                   {RemarkAbout::looks, "looks"},
                                                   {RemarkAbout::vigour, "vigour"},
                                                   {RemarkAbout::disease, "disease"},
                                                   {RemarkAbout::scion_roots, "scion-roots"},
                                                   {RemarkAbout::sucker, "sucker"},
                                                   {RemarkAbout::other, "other"}}};
};
constexpr bool is_scored(RemarkAbout about) {
  return about == RemarkAbout::taste || about == RemarkAbout::looks || about == RemarkAbout::vigour;
}
/// Found at the union of a graft, and on no other plant.
constexpr bool is_of_union(RemarkAbout about) {
  return about == RemarkAbout::scion_roots || about == RemarkAbout::sucker;
}

/// The grower's own scores run from 0 to this.
inline constexpr double kBestScore = 10;

/// A score, a disease, roots above the union, a shoot below it.
struct Remark {
  static constexpr Kind kKind = Kind::remark;
  std::string id{};
  std::string subject{};  ///< "S12" or "G7"
  sensors::Instant at{};
  RemarkAbout about = RemarkAbout::other;
  std::optional<int> count{};     ///< plants it holds of; none: of the subject as a whole
  std::vector<int> plants{};      ///< their numbers, if noted: then as many as `count`
  std::optional<double> score{};  ///< 0 to kBestScore, of what is scored
  std::string what{};             ///< which disease
  std::string note{};

  std::string key() const { return id; }
  bool operator==(const Remark&) const = default;
};
template <class V, Is<Remark> T>
void visit_fields(V& v, T& t) {
  v(field("id"), t.id);
  v(field("subject").of_letter(), t.subject);
  v(field("at"), t.at);
  v(field("about"), t.about);
  v(field("count"), t.count);
  v(field("plants"), t.plants);
  v(field("score"), t.score);
  v(field("what"), t.what);
  v(field("note"), t.note);
}

}  // namespace takehold::client
