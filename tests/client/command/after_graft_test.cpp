// From the finished batch to the bed, the scales and the plate, on a real book.
#include <gmock/gmock.h>

#include <fstream>

#include "client/season/crop.hpp"
#include "tests/client/command/season_book.hpp"

namespace takehold::client {
namespace {

using testing::HasSubstr;

class AfterGraft : public SeasonBook {
 protected:
  AfterGraft() {
    open().record("a bed", *sensors::parse_instant("2027-02-01T08:00:00Z"), [](Recorder& r) {
      r.put(Bed{.name = "south bed", .troubles = {"Ma"}, .soil_peak = {}});
      r.put(Bed{.name = "tunnel 2", .troubles = {}, .soil_peak = {}});
    });
    done({"sow", "QP-24", "8", "--on", "2027-03-20"});
    done({"sow", "IF-26", "6", "--on", "2027-03-17"});
    done({"emerged", "S1", "8", "--on", "2027-03-30"});
    done({"emerged", "S2", "6", "--on", "2027-03-30"});
    done({"graft", "P1", "--count", "5", "--at", "2027-04-12T09:00:00Z"});
    done({"lose", "G1", "--count", "1", "--cause", "wilted", "--now", "2027-04-14T09:00:00Z"});
  }
  static std::vector<std::string> on(const char* day, std::vector<std::string> words) {
    words.insert(words.end(), {"--on", day, "--now", "2027-09-30T18:00:00Z"});
    return words;
  }
  void finish() const { done(on("2027-04-22", {"finish", "G1"})); }
  void set_out() const {
    finish();
    done(on("2027-05-20", {"setout", "G1", "--bed", "south", "--union", "6cm"}));
    done(on("2027-05-20", {"setout", "S1", "--bed", "south bed", "--count", "3"}));
  }
  std::vector<std::string> later(std::vector<std::string> words) const {
    words.insert(words.end(), {"--now", "2027-09-30T18:00:00Z"});
    return words;
  }
};

TEST_F(AfterGraft, what_dies_after_the_count_had_taken_and_changes_no_rate) {
  EXPECT_EQ(refused(later({"lose", "G1", "--count", "1", "--stage", "hardening"})), "not-finished");
  finish();
  EXPECT_EQ(refused(on("2027-04-20", {"lose", "G1", "--count", "1"})), "already-counted");
  const auto lost = done(on("2027-04-25", {"lose", "G1", "--count", "1", "--cause", "pest"}));
  EXPECT_EQ(lost["late"], "hardening");
  const auto row = done(later({"takes"}))["rows"][0];
  EXPECT_EQ(row["grafted"], 5);
  EXPECT_EQ(row["taken"], 4);
  EXPECT_EQ(refused(on("2027-05-20", {"setout", "G1", "--count", "4", "--bed", "south"})),
            "more-than-stand");
  done(on("2027-05-20", {"setout", "G1", "--plants", "2,4", "--bed", "south"}));
  EXPECT_EQ(refused(on("2027-06-01", {"lose", "G1", "--count", "1"})), "which-plants");
  EXPECT_EQ(done(on("2027-06-01", {"lose", "G1", "--plants", "4"}))["late"], "bed");
  EXPECT_EQ(refused(on("2027-06-02", {"lose", "G1", "--count", "2", "--stage", "bed"})),
            "more-than-stand");
  const auto causes = done(later({"causes"}));
  EXPECT_EQ(causes["failures"], 1) << "late losses are no failed grafts";
  ASSERT_EQ(causes["later_losses"].size(), 2u);
  EXPECT_EQ(causes["later_losses"][0]["stage"], "hardening");
  EXPECT_EQ(causes["later_losses"][0]["cause"], "pest");
}

TEST_F(AfterGraft, plants_are_set_out_once_and_the_union_is_watched) {
  EXPECT_EQ(refused(later({"setout", "G1"})), "not-finished");
  finish();
  EXPECT_EQ(refused(on("2027-05-20", {"setout", "G1", "--bed", "north"})), "not-there");
  EXPECT_EQ(refused(on("2027-05-20", {"setout", "S1", "--union", "50mm"})), "no-union");
  EXPECT_EQ(refused(on("2027-05-20", {"setout", "G1", "--union", "1200mm"})), "out-of-range");
  EXPECT_EQ(told(on("2027-05-20", {"setout", "G1", "--union", "12m"})).exit_code, 2);
  const auto low = done(on("2027-05-20", {"setout", "G1", "--plants", "1,2", "--union", "1cm"}));
  EXPECT_EQ(low["warnings"][0]["code"], "low-union");
  EXPECT_EQ(low["union_height_mm"], 10);
  EXPECT_EQ(low["bed"], "") << "two beds, none named";
  EXPECT_EQ(refused(on("2027-05-21", {"setout", "G1", "--plants", "2,3"})), "twice");
  EXPECT_EQ(done(on("2027-05-21", {"setout", "G1", "--bed", "tunnel"}))["count"], 2);
  EXPECT_EQ(refused(on("2027-05-22", {"setout", "G1"})), "more-than-stand");
  done({"undo", "--now", "2027-09-30T18:00:00Z"});
  EXPECT_EQ(done(on("2027-05-22", {"setout", "G1"}))["count"], 2);
}

TEST_F(AfterGraft, pickings_are_told_by_plant_batch_or_bed) {
  set_out();
  const auto two = done(on("2027-07-20", {"harvest", "G1", "3=1.25/14", "1=850g"}))["harvests"];
  ASSERT_EQ(two.size(), 2u);
  EXPECT_EQ(two[0]["plant"], 3);
  EXPECT_DOUBLE_EQ(two[0]["weight_kg"], 1.25);
  EXPECT_EQ(two[0]["fruits"], 14);
  EXPECT_DOUBLE_EQ(two[1]["weight_kg"], 0.85);
  const auto pounds = done(on("2027-07-21", {"harvest", "S1", "2,5lb"}))["harvests"][0];
  EXPECT_NEAR(pounds["weight_kg"].get<double>(), 1.133980925, 1e-9);
  const auto bed = done(on("2027-07-22", {"harvest", "south", "4.5"}));
  EXPECT_EQ(bed["harvests"][0]["bed"], "south bed");
  EXPECT_EQ(bed["harvests"][0]["subject"], "") << "two stand there: not told apart";
  EXPECT_EQ(bed["warnings"][0]["code"], "bed-not-told-apart");
  EXPECT_EQ(refused(on("2027-07-20", {"harvest", "G1", "6=1.0"})), "no-such-graft");
  EXPECT_EQ(refused(on("2027-07-20", {"harvest", "G1", "3=850"})), "out-of-range");
  EXPECT_EQ(refused(on("2027-07-20", {"harvest", "G1", "3=0"})), "out-of-range");
  EXPECT_EQ(refused(on("2027-07-20", {"harvest", "south", "3=1.0"})), "bad-picking");
  EXPECT_EQ(refused(on("2027-07-20", {"harvest", "G1", "some"})), "bad-number");
}

TEST_F(AfterGraft, a_pipe_is_a_line_a_picking_and_all_or_nothing) {
  set_out();
  const auto before = open().commands().size();
  const auto words = later({"harvest"});
  const Said bad = told(words, "# first week\n2027-07-20 G1 3=1.25 1=0.9\n\nS1 4=kg\n");
  EXPECT_EQ(bad.exit_code, 1);
  EXPECT_THAT(bad.document()["error"]["where"].get<std::string>(), HasSubstr("standard input:4"));
  EXPECT_EQ(open().commands().size(), before);
  const auto told_all =
      done(words, "2027-07-20 G1 3=1.25 1=0.9\n2027-07-27 S1 2=0.5/6\n\"tunnel 2\" 2.5 kg\n");
  ASSERT_EQ(told_all["harvests"].size(), 4u);
  EXPECT_EQ(told_all["harvests"][2]["on"], "2027-07-27");
  EXPECT_EQ(told_all["harvests"][3]["bed"], "tunnel 2");
  EXPECT_EQ(open().commands().size(), before + 1);
  done({"undo", "--now", "2027-09-30T18:00:00Z"});
  EXPECT_TRUE(open().all<Harvest>().empty());
  EXPECT_EQ(told(words, "2027-10-20 G1 3=1.25\n").document()["error"]["code"], "in-the-future");
}

TEST_F(AfterGraft, wet_hands_tell_line_after_line_and_take_back) {
  set_out();
  const Said said = run(later({"harvest", "--book", (folder_ / "book.db").string()}),
                        "g1\n3=1.25\n1=0.9/11\nu\n1=0,8\nS1 2=0.5\nS9 1\n4=0.6\n\n", true);
  EXPECT_EQ(said.exit_code, 0) << said.err;
  EXPECT_THAT(said.out, HasSubstr("G1, Quarry Pink, grafted, 4 plants, south bed"));
  EXPECT_THAT(said.out, HasSubstr("G1: 0.90 kg, 11 fruits"));
  EXPECT_THAT(said.out, HasSubstr("taken back"));
  EXPECT_THAT(said.out, HasSubstr("there is no sowing S9"));
  const auto all = open().all<Harvest>();
  ASSERT_EQ(all.size(), 4u);
  EXPECT_EQ(all[1].weight, Kilograms::kg(0.8));
  EXPECT_EQ(all[3].subject, "S1");
  EXPECT_EQ(all[3].plant, 4);
}

TEST_F(AfterGraft, remarks_are_scores_diseases_and_what_is_found_at_the_union) {
  set_out();
  EXPECT_EQ(done(on("2027-08-01", {"remark", "G1", "taste", "7.5", "--plants", "1,3"}))["count"],
            2);
  EXPECT_EQ(refused(on("2027-08-01", {"remark", "G1", "taste", "11"})), "out-of-range");
  EXPECT_EQ(refused(on("2027-08-01", {"remark", "G1", "taste"})), "bad-number");
  EXPECT_EQ(refused(on("2027-08-01", {"remark", "S1", "sucker"})), "no-union");
  EXPECT_EQ(refused(on("2027-08-01", {"remark", "G1", "disease"})), "no-words");
  EXPECT_EQ(told(on("2027-08-01", {"remark", "G1", "smell", "5"})).exit_code, 2);
  const auto sick =
      done(on("2027-08-01", {"remark", "G1", "disease", "leaf mould", "--plants", "3"}));
  EXPECT_EQ(sick["what"], "leaf mould");
  EXPECT_EQ(done(on("2027-08-01", {"remark", "G1", "scion-roots", "--count", "2"}))["count"], 2);
  EXPECT_EQ(done(on("2027-08-01", {"remark", "S1", "other", "splits in rain"}))["note"],
            "splits in rain");
}

TEST_F(AfterGraft, all_of_it_goes_out_as_tables_and_comes_back_byte_for_byte) {
  set_out();
  done(on("2027-07-20", {"harvest", "G1", "3=1.25/14", "1=850g"}));
  done(on("2027-07-21", {"lose", "G1", "--plants", "2", "--cause", "rotted"}));
  done(on("2027-08-01",
          {"remark", "G1", "taste", "7.5", "--plants", "1,3", "--note", "a \"sweet\", one"}));
  const std::string out = (folder_ / "out").string(), again = (folder_ / "again").string();
  done(later({"export", out}));
  const auto taken = done(later({"import", out}));
  EXPECT_TRUE(taken["changed"].empty() && taken["added"].empty() && taken["missing"].empty());
  done(later({"export", again}));
  int files = 0;
  const auto text_of = [](const std::filesystem::path& path) {
    std::ifstream in(path, std::ios::binary);
    return std::string(std::istreambuf_iterator<char>(in), {});
  };
  for (const auto& entry : std::filesystem::directory_iterator(out)) {
    ++files;
    EXPECT_EQ(text_of(entry.path()),
              text_of(std::filesystem::path(again) / entry.path().filename()))
        << entry.path();
  }
  EXPECT_EQ(files, static_cast<int>(std::size(kAllKinds)) + 3);
  EXPECT_THAT(text_of(std::filesystem::path(out) / "harvest.csv"), HasSubstr(",3,1.25,14,"));
}

}  // namespace
}  // namespace takehold::client
