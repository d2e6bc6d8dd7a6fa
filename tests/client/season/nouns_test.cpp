#include <gtest/gtest.h>

#include <set>

#include "client/season/batch.hpp"
#include "client/season/field_json.hpp"
#include "client/season/pairing.hpp"
#include "client/season/place.hpp"
#include "client/season/planned.hpp"
#include "client/season/season.hpp"
#include "client/season/sheet.hpp"
#include "client/season/stem_text.hpp"

namespace takehold::client {
namespace {

using nlohmann::json;

// The left side is text as the formats page has it, not what our writer made of it.
TEST(NounsAsJson, a_lot_reads_from_the_keys_of_the_contract) {
  const auto lot = from_json<Lot>(json::parse(R"({"label":"QP-24","variety":"Quarry Pink",
      "year":2024,"seeds":30,"price":3.10,"packet_seeds":null,"origin":"fermented"})"));
  EXPECT_EQ(lot.label, "QP-24");
  EXPECT_EQ(lot.variety, "Quarry Pink");
  EXPECT_EQ(lot.year, 2024);
  EXPECT_EQ(lot.seeds, 30);
  EXPECT_DOUBLE_EQ(lot.price.value(), 3.10);
  EXPECT_FALSE(lot.packet_seeds.has_value());
  EXPECT_EQ(lot.origin, Origin::fermented);
}

TEST(NounsAsJson, unknown_values_are_null_and_every_key_is_there) {
  EXPECT_EQ(to_json(Lot{.label = "a", .variety = "b"}),
            json::parse(R"({"label":"a","variety":"b","year":null,"seeds":0,"price":null,
                            "packet_seeds":null,"origin":null})"));
}

TEST(NounsAsJson, a_batch_comes_back_as_it_was_with_its_grafts) {
  Batch batch{.id = "G7", .pairing = "P1", .scion = "A", .rootstock = "B"};
  batch.at = sensors::parse_instant("2027-04-12T09:30:00.250Z").value();
  batch.method = Method::cleft;
  batch.scion_sowings = {"S3", "S4"};
  batch.grafts = {{.number = 1,
                   .place = 1,
                   .rootstock = "S1-2",
                   .scion = "S3-1",
                   .rootstock_diameter = Millimetres::mm(2.05),
                   .scion_diameter = std::nullopt},
                  {.number = 2,
                   .place = 6,
                   .rootstock = "",
                   .scion = "",
                   .rootstock_diameter = std::nullopt,
                   .scion_diameter = std::nullopt}};
  EXPECT_EQ(from_json<Batch>(json::parse(to_json(batch).dump())), batch);
}

TEST(NounsAsJson, a_word_that_is_no_choice_is_refused_with_the_choices) {
  try {
    from_json<Variety>(json{{"name", "x"}, {"role", "stalk"}});
    FAIL() << "read a role that is none";
  } catch (const std::invalid_argument& e) {
    EXPECT_STREQ(e.what(), "\"stalk\" is none of scion | rootstock | both");
  }
}

TEST(Kinds, names_and_letters_find_their_kind_again) {
  std::set<std::string_view> names;
  for (const Kind kind : kAllKinds) {
    EXPECT_EQ(kind_of_name(kind_name(kind)), kind);
    names.insert(kind_name(kind));
  }
  EXPECT_EQ(names.size(), std::size(kAllKinds));
  EXPECT_EQ(kind_of_key("S12"), Kind::sowing);
  EXPECT_EQ(kind_of_key("g7"), Kind::batch);
  EXPECT_EQ(kind_of_key("P3"), Kind::pairing);
  EXPECT_EQ(kind_of_key("S"), std::nullopt);
  EXPECT_EQ(kind_of_key("S12-5"), std::nullopt);
  EXPECT_EQ(kind_of_key("Sunday"), std::nullopt);
}

TEST(Benches, mean_warmth_weighs_day_and_night_by_their_hours) {
  const Bench bench{.name = "b",
                    .position = 0,
                    .day = Celsius::degc(24),
                    .night = Celsius::degc(18),
                    .day_hours = 16};
  EXPECT_DOUBLE_EQ(bench.mean().degc(), 22.0);
}

}  // namespace
}  // namespace takehold::client
