#include "client/match/joining.hpp"

#include <gtest/gtest.h>

#include <algorithm>

namespace takehold::client {
namespace {

using sensors::Celsius;

bool has(const Joining& joining, const std::string& code) {
  return std::any_of(joining.notes.begin(), joining.notes.end(),
                     [&](const JoiningNote& note) { return note.code == code; });
}

Joining joined(TmvGenes above, TmvGenes below) {
  Variety scion{"Quarry Pink", Role::scion}, rootstock{"Ironfoot", Role::rootstock};
  scion.tmv_genes = above;
  rootstock.tmv_genes = below;
  return check_joining(scion, rootstock, 6, {});
}

// ASHS 2014, abstract 19949: Tm-2 or Tm-2^2 below, Tm-1 only or none above wilts once infected; a
// rootstock with Tm-1 appears safe.
TEST(Joining, virus_genes_that_do_not_agree_are_warned_of) {
  for (const TmvGenes below : {TmvGenes::tm_2, TmvGenes::tm_2_2}) {
    EXPECT_TRUE(has(joined(TmvGenes::none, below), "virus-genes"));
    EXPECT_TRUE(has(joined(TmvGenes::tm_1, below), "virus-genes"));
    EXPECT_TRUE(joined(TmvGenes::tm_2, below).notes.empty());
    EXPECT_TRUE(joined(TmvGenes::tm_2_2, below).notes.empty());
  }
  EXPECT_TRUE(joined(TmvGenes::none, TmvGenes::tm_1).notes.empty());
  EXPECT_TRUE(joined(TmvGenes::none, TmvGenes::none).notes.empty());
}

TEST(Joining, unknown_genes_are_never_called_fine) {
  EXPECT_TRUE(has(joined(TmvGenes::unknown, TmvGenes::tm_2), "virus-genes-unknown"));
  EXPECT_TRUE(has(joined(TmvGenes::none, TmvGenes::unknown), "virus-genes-unknown"));
  EXPECT_TRUE(has(joined(TmvGenes::unknown, TmvGenes::unknown), "virus-genes-unknown"));
  EXPECT_FALSE(has(joined(TmvGenes::unknown, TmvGenes::tm_2), "virus-genes"));
  EXPECT_TRUE(joined(TmvGenes::tm_2, TmvGenes::unknown).notes.empty());  // nothing below can clash
}

TEST(Resistances, codes_and_races_are_read_as_printed) {
  const auto found = read_resistances("HR: ToMV:0-2, Fol:0,1, Va, Vd; IR: Ma, Mi, Mj").value();
  EXPECT_EQ(found.high,
            (std::set<std::string>{"ToMV:0", "ToMV:1", "ToMV:2", "Fol:0", "Fol:1", "Va", "Vd"}));
  EXPECT_EQ(found.intermediate, (std::set<std::string>{"Ma", "Mi", "Mj"}));
  EXPECT_EQ(found.against("Fol:1"), Resistance::high);
  EXPECT_EQ(found.against("Fol:2"), std::nullopt);
  EXPECT_EQ(found.against("Fol"), Resistance::high);
  EXPECT_EQ(found.against("Ma"), Resistance::intermediate);
  EXPECT_EQ(found.against("Rs"), std::nullopt);
  EXPECT_FALSE(read_resistances("  "));
}

TEST(Joining, what_the_rootstock_adds_and_what_a_bed_still_lacks) {
  Variety scion{"Dovecote Pearl", Role::scion}, rootstock{"Ironfoot", Role::rootstock};
  scion.resists = "HR: Fol:0";
  rootstock.resists = "HR: Fol:0,1, Va; IR: Ma";
  Bed bed{"river bed", {"Fol:1", "Ma", "Rs"}, Celsius::degc(33)};
  const Joining joining = check_joining(scion, rootstock, 6, {bed});
  ASSERT_EQ(joining.adds.size(), 3u);
  EXPECT_EQ(joining.adds[0].code, "Fol:1");
  EXPECT_EQ(joining.adds[2].code, "Ma");
  EXPECT_EQ(joining.adds[2].level, Resistance::intermediate);
  ASSERT_EQ(joining.troubles.size(), 3u);
  EXPECT_EQ(joining.troubles[0].level, Resistance::high);
  EXPECT_EQ(joining.troubles[1].level, Resistance::intermediate);
  EXPECT_FALSE(joining.troubles[2].level);
  EXPECT_TRUE(has(joining, "mi-heat"));
  bed.soil_peak = Celsius::degc(27);
  EXPECT_FALSE(has(check_joining(scion, rootstock, 6, {bed}), "mi-heat"));
  rootstock.resists = "";
  EXPECT_FALSE(check_joining(scion, rootstock, 6, {bed}).troubles[0].is_known);
}

// 28, 32 for 48 h and 35 for 3 h degC: Turk. J. Entomol. 42(4):313, 2018; J. Nematol. 47(2).
TEST(Joining, soil_heat_against_root_knot_is_graded_and_unknown_heat_is_told) {
  Variety scion{"Quarry Pink", Role::scion}, rootstock{"Ironfoot", Role::rootstock};
  rootstock.resists = "IR: Ma, Mi, Mj";
  const auto told = [&](std::optional<Celsius> peak, const std::vector<std::string>& troubles) {
    const auto notes = check_joining(scion, rootstock, 6, {{"wall bed", troubles, peak}}).notes;
    return notes.size() < 2 ? "" : notes[1].code + " " + notes[1].text();
  };
  EXPECT_EQ(told(Celsius::degc(28), {"Ma"}), "");
  EXPECT_NE(told(Celsius::degc(28.5), {"Ma"}).find("fades"), std::string::npos);
  EXPECT_NE(told(Celsius::degc(32), {"Ma"}).find("48 h"), std::string::npos);
  EXPECT_NE(told(Celsius::degc(35), {}).find("lost after 3 h"), std::string::npos);
  EXPECT_TRUE(told(std::nullopt, {"Mj"}).starts_with("mi-heat-unknown"));
  EXPECT_EQ(told(std::nullopt, {"Va"}), "");
}

TEST(Joining, a_trouble_without_its_race_is_not_called_met) {
  Variety scion{"Quarry Pink", Role::scion}, rootstock{"Ironfoot", Role::rootstock};
  rootstock.resists = "HR: Fol:0,1, Va";
  EXPECT_TRUE(
      has(check_joining(scion, rootstock, 6, {{"river bed", {"Fol"}, {}}}), "race-unknown"));
  EXPECT_FALSE(has(check_joining(scion, rootstock, 6, {{"river bed", {"Fol:1", "Va"}, {}}}),
                   "race-unknown"));
  rootstock.resists = "HR: Fol";
  EXPECT_FALSE(
      has(check_joining(scion, rootstock, 6, {{"river bed", {"Fol"}, {}}}), "race-unknown"));
}

TEST(Joining, vigour_under_few_or_small_plants_is_told) {
  Variety scion{"Hedgesparrow", Role::scion}, rootstock{"Ironfoot", Role::rootstock};
  rootstock.species = Species::interspecific;
  EXPECT_TRUE(has(check_joining(scion, rootstock, 2, {}), "vigour"));
  EXPECT_FALSE(has(check_joining(scion, rootstock, 8, {}), "vigour"));
  scion.habit = Habit::dwarf;
  EXPECT_TRUE(has(check_joining(scion, rootstock, 8, {}), "vigour"));
}

}  // namespace
}  // namespace takehold::client
