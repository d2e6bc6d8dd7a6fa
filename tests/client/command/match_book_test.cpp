// match on a book: pairings that share rootstocks, what is laid out, what becomes of the rest.
#include <map>
#include <set>

#include "tests/client/command/season_book.hpp"

namespace takehold::client {
namespace {

class MatchBook : public SeasonBook {
 protected:
  // S1 Quarry Pink, S2 Ironfoot, S3 Lantern; P2 Lantern/Ironfoot beside P1.
  MatchBook() {
    done({"variety", "add", "Lantern", "--role", "scion"});
    done({"lot", "add", "LA-25", "--variety", "Lantern", "--seeds", "20"});
    done({"pairing", "add", "Lantern/Ironfoot", "--want", "1"});
    for (const char* lot : {"QP-24", "IF-26", "LA-25"}) {
      done({"sow", lot, "6", "--on", "2027-03-20"});
    }
    for (const char* sowing : {"S1", "S2", "S3"}) {
      done({"emerged", sowing, "4", "--on", "2027-03-30"});
    }
  }
  void measure(const char* sowing, const std::vector<std::string>& stems) const {
    std::vector<std::string> words{"measure", sowing};
    words.insert(words.end(), stems.begin(), stems.end());
    words.insert(words.end(), {"--at", "2027-04-12T08:00:00Z"});
    done(words);
  }
};

TEST_F(MatchBook, pairings_on_one_rootstock_share_its_stems_and_none_gets_more_than_it_wants) {
  measure("S1", {"2.0", "2.1", "2.05", "2.2"});
  measure("S2", {"2.0", "2.1", "2.0", "2.2"});
  measure("S3", {"2.0", "2.1", "2.0", "2.0"});
  const auto match = done({"match", "--all"});
  EXPECT_EQ(match["count"], 4);
  int lantern = 0;
  std::set<std::string> below;
  for (const auto& pair : match["pairs"]) {
    lantern += pair["pairing"] == "P2" ? 1 : 0;
    below.insert(pair["rootstock_seedling"]);
  }
  EXPECT_EQ(below.size(), 4u);
  EXPECT_EQ(match["pairings"].size(), 2u);
  EXPECT_GE(match["pairings"][1]["wanted"], 1);
  EXPECT_LE(lantern, match["pairings"][1]["wanted"]);
  EXPECT_EQ(match["left_over_stems"].size(), 4u);
  EXPECT_EQ(done({"match", "P1"})["count"], 4);  // alone it takes what it can get
}

TEST_F(MatchBook, the_sheet_is_in_tray_order_with_a_code_to_write_down_and_clips_to_lay_out) {
  measure("S1", {"3=2.0", "1=2.4", "2=1.6", "4=2.1"});
  measure("S2", {"2.1", "1.6", "2.0", "2.4"});
  const auto match = done({"match", "P1"});
  ASSERT_EQ(match["count"], 4);
  const std::vector<std::string> codes{"R1-S4", "R2-S2", "R3-S3", "R4-S1"};
  for (int i = 0; i < 4; ++i) {
    EXPECT_EQ(match["pairs"][i]["code"], codes[i]);
    EXPECT_EQ(match["pairs"][i]["place"], i + 1);
  }
  EXPECT_EQ(match["clips"].dump(),
            R"([{"clip_mm":1.5,"count":1},{"clip_mm":2.0,"count":2},{"clip_mm":2.5,"count":1}])");
  const Said sheet = run({"match", "P1", "--book", (folder_ / "book.db").string()});
  EXPECT_NE(sheet.out.find("1 of 1.5 mm, 2 of 2.0 mm, 1 of 2.5 mm"), std::string::npos)
      << sheet.out;
}

TEST_F(MatchBook, no_rootstock_is_thinner_than_its_scion_where_that_is_asked) {
  measure("S1", {"2.1", "2.1", "2.1", "2.1"});
  measure("S2", {"2.0", "2.1", "2.2", "2.05"});
  EXPECT_EQ(done({"match", "P1"})["count"], 4);
  EXPECT_EQ(done({"match", "P1", "--rootstock-not-thinner"})["count"], 2);
  EXPECT_EQ(done({"match", "P1", "--rootstock-thinner-by", "0.05"})["count"], 3);
}

TEST_F(MatchBook, what_is_left_over_is_told_with_what_to_do_and_why) {
  measure("S1", {"2.1", "1.75", "1.2", "2.9"});
  measure("S2", {"2.1", "2.0", "2.5", "2.3"});
  const auto match = done({"match", "P1"});
  std::map<std::string, std::string> what;
  for (const auto& stem : match["left_over_stems"]) {
    what[stem["seedling"]] = stem["what"];
    EXPECT_FALSE(stem["reason"].get<std::string>().empty());
  }
  EXPECT_EQ(match["left_over"]["rootstocks"].size() + match["left_over"]["scions"].size(),
            what.size());
  EXPECT_EQ(what["S1-4"], "discard");  // 2.9 mm: no clip holds it
  // Nothing grows backwards: the thin scion's rootstock has to be held back.
  EXPECT_TRUE(what["S1-2"] == "later" || what["S1-2"] == "tomorrow") << what["S1-2"];
  EXPECT_EQ(what["S2-2"], "cooler");
}

TEST_F(MatchBook, seedlings_that_were_lost_by_number_are_not_matched) {
  measure("S1", {"2.1", "2.0", "2.2", "2.3"});
  measure("S2", {"2.1", "2.0", "2.2", "2.3"});
  done({"lose", "S2", "--plants", "2", "--cause", "damped-off"});
  const auto match = done({"match", "P1"});
  EXPECT_EQ(match["count"], 3);
  for (const auto& pair : match["pairs"]) EXPECT_NE(pair["rootstock_seedling"], "S2-2");
}

}  // namespace
}  // namespace takehold::client
