// Of the sheet's nouns.
#include "client/season/ranges.hpp"

#include "client/season/names.hpp"

namespace takehold::client {
namespace {

constexpr Celsius kColdest = Celsius::degc(0);
constexpr Celsius kHottest = Celsius::degc(50);

bool plausible(Celsius t) {
  return t >= kColdest && t <= kHottest;
}

bool is_name(const std::string& name) {
  const auto checked = checked_name(name);
  return checked && *checked == name;
}

constexpr const char* kName = "is a name: no \"/\", no control characters, no blanks around it";

}  // namespace

void ranges(const Season& s, const Require& require) {
  require(s.confidence > 0 && s.confidence < 1, "confidence", "lies between 0 and 1, as 0.90");
  require(s.cells_per_tray >= 1, "cells_per_tray", "is 1 or more");
  require(s.seeds_per_cell >= 1, "seeds_per_cell", "is 1 or more");
  require(s.cell_price.value_or(0) >= 0, "cell_price", "is 0 or more");
  require(s.graft_price.value_or(0) >= 0, "graft_price", "is 0 or more");
  require(s.tolerance_pct > 0 && s.tolerance_pct <= 100, "tolerance_pct",
          "is above 0 and at most 100");
  require(s.window_days >= 0 && s.window_days <= 14, "window_days", "is 0 to 14");
  require(s.grafts_per_day.value_or(1) >= 1, "grafts_per_day", "is 1 or more");
  require(s.places.value_or(1) >= 1, "chamber_places", "is 1 or more");
}

void ranges(const Bench& bench, const Require& require) {
  require(is_name(bench.name), "name", kName);
  require(bench.name != "chamber", "name", "is not \"chamber\", the healing chamber's");
  require(plausible(bench.day), "day_degc", "is 0 to 50");
  require(plausible(bench.night), "night_degc", "is 0 to 50");
  require(bench.day_hours >= 0 && bench.day_hours <= 24, "day_hours", "is 0 to 24");
}

void ranges(const Bed& bed, const Require& require) {
  require(is_name(bed.name), "name", kName);
  require(!bed.soil_peak || plausible(*bed.soil_peak), "soil_peak_degc", "is 0 to 50");
}

void ranges(const Variety& variety, const Require& require) {
  require(is_name(variety.name), "name", kName);
}

void ranges(const Lot& lot, const Require& require) {
  require(checked_label(lot.label).has_value(), "label", "is a label: [A-Za-z0-9._-]{1,32}");
  require(lot.seeds >= 0, "seeds", "is 0 or more");
  require(lot.packet_seeds.value_or(1) >= 1, "packet_seeds", "is 1 or more");
  require(lot.price.value_or(0) >= 0, "price", "is 0 or more");
  require(lot.year.value_or(2000) >= 1900 && lot.year.value_or(2000) <= 2200, "year",
          "is a year, as 2026");
}

void ranges(const LotTest& test, const Require& require) {
  require(test.sown >= 1, "sown", "is 1 or more");
  require(test.sprouted >= 0 && test.sprouted <= test.sown, "sprouted",
          "is 0 or more, and no more than were sown");
}

void ranges(const SeedCount& count, const Require& require) {
  require(count.seeds >= 0, "seeds", "is 0 or more");
}

void ranges(const Pairing& pairing, const Require& require) {
  require(pairing.want >= 0, "want", "is 0 or more");
  require(pairing.weight > 0, "weight", "is above 0");
}

void ranges(const OwnRoot& own_root, const Require& require) {
  require(own_root.want >= 0, "want", "is 0 or more");
}

}  // namespace takehold::client
