// The kinds of thing a grower keeps a record of, and how their keys are written.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace takehold::client {

/// One kind, one noun, one table of the book. Stored by the name of kind_name(), never by number.
enum class Kind {
  season,
  bench,
  bed,
  variety,
  lot,
  lot_test,
  seed_count,
  pairing,
  own_root,
  sowing,
  emerged,
  thinning,
  pricking,
  measurement,
  move,
  batch,
  batch_event,
  loss,
  cull,
  finish,
  exposure,
  planned_sowing,
  planned_graft,
  season_close,
  set_out,
  harvest,
  remark,
  tending,
};

inline constexpr Kind kAllKinds[] = {
    Kind::season,   Kind::bench,          Kind::bed,           Kind::variety,      Kind::lot,
    Kind::lot_test, Kind::seed_count,     Kind::pairing,       Kind::own_root,     Kind::sowing,
    Kind::emerged,  Kind::thinning,       Kind::pricking,      Kind::measurement,  Kind::move,
    Kind::batch,    Kind::batch_event,    Kind::loss,          Kind::cull,         Kind::finish,
    Kind::exposure, Kind::planned_sowing, Kind::planned_graft, Kind::season_close, Kind::set_out,
    Kind::harvest,  Kind::remark,         Kind::tending};

/// "variety", "lot_test": the table's name and the JSON's.
std::string_view kind_name(Kind kind);
std::optional<Kind> kind_of_name(std::string_view name);

/// The letter before a kind's number: S for sowings, G for batches, P for pairings; R for every
/// other numbered record. Kinds with one letter share one counter. 0 if the grower names the kind.
char kind_letter(Kind kind);

/// "S12" is a sowing, "G7" a batch, "P3" a pairing (small letters too); none for anything else.
std::optional<Kind> kind_of_key(std::string_view key);

}  // namespace takehold::client
