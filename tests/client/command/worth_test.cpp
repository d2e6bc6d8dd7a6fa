// Was it worth it, and which variety was best: by what was weighed and scored.
#include <gmock/gmock.h>

#include <array>
#include <fstream>
#include <sstream>

#include "client/season/crop.hpp"
#include "tests/client/command/season_book.hpp"
#include "tests/support/running_program.hpp"

namespace takehold::client {
namespace {

using ::testing::HasSubstr;

class Worthwhile : public SeasonBook {
 protected:
  Worthwhile() {
    open().record("prices", *sensors::parse_instant("2027-02-01T08:00:00Z"), [](Recorder& r) {
      Season season = *r.book().find<Season>("season");
      season.cell_price = 0.05;
      season.graft_price = 0.20;
      r.put(season);
      Lot dear = *r.book().find<Lot>("IF-26");
      dear.price = 6.0;  // 20 seeds: 0.30 each
      r.put(dear);
      Lot saved = *r.book().find<Lot>("QP-24");
      saved.origin = Origin::paper;  // saved: costs nothing
      r.put(saved);
      r.put(Bed{.name = "south bed", .troubles = {}, .soil_peak = {}});
    });
    tell({"sow", "QP-24", "8", "--cells", "8"}, "2027-03-20");
    tell({"sow", "IF-26", "6", "--cells", "6"}, "2027-03-17");
    tell({"emerged", "S1", "8"}, "2027-03-30");
    tell({"emerged", "S2", "5"}, "2027-03-30");
    tell({"graft", "P1", "--count", "5"}, "2027-04-12");
    tell({"lose", "G1", "--count", "1", "--cause", "wilted"}, "2027-04-14");
    tell({"finish", "G1"}, "2027-04-22");
    tell({"setout", "G1"}, "2027-05-20");
    tell({"setout", "S1", "--count", "3"}, "2027-05-20");
  }
  nlohmann::json tell(std::vector<std::string> words, const char* day) const {
    words.insert(words.end(), {"--on", day, "--now", "2027-09-30T18:00:00Z"});
    return done(std::move(words));
  }
  nlohmann::json asked(std::vector<std::string> words) const {
    words.insert(words.end(), {"--now", "2027-09-30T18:00:00Z"});
    return done(std::move(words));
  }
};

TEST_F(Worthwhile, the_difference_has_the_interval_that_r_gives_it) {
  tell({"harvest", "G1", "1=2.5", "2=3.0", "3=3.9", "4=2.8"}, "2027-07-20");
  tell({"harvest", "G1", "1=0.4"}, "2027-08-20");
  tell({"harvest", "S1", "6=1.9", "7=2.1", "8=2.6"}, "2027-07-20");
  const auto one = asked({"worth"})["scions"][0];
  std::istringstream r(testing::answer_of(
      "Rscript -e 'a <- c(2.9,3.0,3.9,2.8); b <- c(1.9,2.1,2.6); t <- t.test(a, b); "
      "s <- t.test(a/0.8375, b/0.05); cat(format(c(mean(a)-mean(b), t$conf.int, "
      "mean(a/0.8375)-mean(b/0.05), s$conf.int), digits = 15))'"));
  std::array<double, 6> expected{};
  for (double& value : expected) ASSERT_TRUE(r >> value);
  // A scion seedling 0.05 (its cell), a rootstock 6 x (0.30 + 0.05) / 5 = 0.42, the graft 0.20:
  // 0.67 a graft made; 4 of 5 took: 0.8375 a living plant.
  EXPECT_NEAR(one["grafted"]["cost_a_plant"].get<double>(), 0.67 / 0.8, 1e-12);
  EXPECT_NEAR(one["own_rooted"]["cost_a_plant"].get<double>(), 0.05, 1e-12);
  EXPECT_NEAR(one["difference_kg"]["more"].get<double>(), expected[0], 1e-9);
  EXPECT_NEAR(one["difference_kg"]["low"].get<double>(), expected[1], 1e-9);
  EXPECT_NEAR(one["difference_kg"]["high"].get<double>(), expected[2], 1e-9);
  EXPECT_EQ(one["difference_kg"]["method"], "Welch");
  const auto& money = one["difference_for_money_kg"];
  EXPECT_NEAR(money["more"].get<double>(), expected[3], 1e-9);
  EXPECT_NEAR(money["low"].get<double>(), expected[4], 1e-9);
  EXPECT_NEAR(money["high"].get<double>(), expected[5], 1e-9);
  EXPECT_NEAR(one["cost_a_more_kg"].get<double>(), (0.8375 - 0.05) / expected[0], 1e-9);
  EXPECT_THAT(one["text"].get<std::string>(), HasSubstr("3.15 kg a plant (4 plants)"));
}

TEST_F(Worthwhile, the_dead_count_with_nothing_and_the_unweighed_are_left_out_and_said) {
  tell({"harvest", "G1", "1=2.5", "2=3.0"}, "2027-07-20");
  tell({"lose", "G1", "--plants", "3", "--cause", "rotted"}, "2027-07-25");
  tell({"harvest", "S1", "2.0"}, "2027-07-20");
  const auto one = asked({"worth"})["scions"][0];
  EXPECT_EQ(one["grafted"]["by_plant_kg"], (std::vector<double>{2.5, 3.0, 0.0}));
  EXPECT_EQ(one["grafted"]["died"], 1);
  EXPECT_EQ(one["own_rooted"]["plants"], 3);
  EXPECT_TRUE(one["difference_kg"]["low"].is_null()) << "not weighed plant by plant";
  const std::string text = one["text"];
  EXPECT_THAT(text, HasSubstr("1 plant grafted was never weighed and left out"));
  EXPECT_THAT(text, HasSubstr("cannot be said"));
  EXPECT_THAT(text, HasSubstr("1 of the grafted plants died and 0 of the others"));
}

TEST_F(Worthwhile, the_report_tells_a_stranger) {
  const std::string file = (folder_ / "season.html").string();
  const auto without = asked({"report", "--out", file})["sections"].size();
  tell({"harvest", "G1", "1=2.5", "2=3.0"}, "2027-07-20");
  tell({"harvest", "S1", "6=1.9", "7=2.1"}, "2027-07-20");
  tell({"remark", "S1", "taste", "8", "--plants", "6"}, "2027-08-01");
  EXPECT_EQ(asked({"report", "--out", file})["sections"].size(), without + 2);
  std::ifstream in(file);
  const std::string page(std::istreambuf_iterator<char>(in), {});
  EXPECT_THAT(page, HasSubstr("Was grafting worth it"));
  EXPECT_THAT(page, HasSubstr("it gave 2.75 kg a plant (2 plants)"));
  EXPECT_THAT(page, HasSubstr("How they were scored: taste"));
}

TEST_F(Worthwhile, what_is_not_known_is_named) {
  EXPECT_TRUE(asked({"worth"})["scions"].empty());
  open().record("no price", *sensors::parse_instant("2027-02-02T08:00:00Z"), [](Recorder& r) {
    Lot lot = *r.book().find<Lot>("IF-26");
    lot.price.reset();
    r.put(lot);
  });
  tell({"harvest", "G1", "1=2.5", "2=3.0"}, "2027-07-20");
  tell({"harvest", "S1", "6=1.9", "7=2.1"}, "2027-07-20");
  const std::string text = asked({"worth"})["scions"][0]["text"];
  EXPECT_THAT(text, HasSubstr("the price of lot IF-26"));
  EXPECT_EQ(told({"worth", "--season", "1999"}).document()["error"]["code"], "not-there");
}

TEST_F(Worthwhile, own_scores_rank_varieties_and_few_plants_are_a_tie) {
  EXPECT_TRUE(asked({"ranking"})["rows"].empty());
  tell({"remark", "S1", "taste", "8", "--plants", "6"}, "2027-08-01");
  tell({"remark", "S1", "taste", "7", "--plants", "6"}, "2027-08-09");
  tell({"remark", "S1", "taste", "8", "--plants", "7"}, "2027-08-01");
  tell({"remark", "G1", "taste", "7", "--plants", "1,2"}, "2027-08-01");
  const auto rows = asked({"ranking"})["rows"];
  ASSERT_EQ(rows.size(), 2u);
  EXPECT_EQ(rows[0]["variety"], "Quarry Pink");
  EXPECT_NEAR(rows[0]["mean"].get<double>(), 7.75, 1e-12) << "two scores of a plant are one";
  EXPECT_EQ(rows[0]["plants"], 2);
  EXPECT_EQ(rows[1]["variety"], "Quarry Pink (grafted)");
  EXPECT_EQ(rows[0]["first_time"], true);
  EXPECT_EQ(told({"ranking", "--by", "disease"}).exit_code, 2);
  EXPECT_TRUE(asked({"ranking", "--by", "vigour"})["rows"].empty());
}

}  // namespace
}  // namespace takehold::client
