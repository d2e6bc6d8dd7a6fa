#include "client/match/joining.hpp"

#include <gtest/gtest.h>

#include <algorithm>

namespace takehold::client {
namespace {

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
