// The book itself: closed, written out as tables and taken in again, looked after.
#include <gmock/gmock.h>

#include <fstream>

#include "client/season/planned.hpp"
#include "tests/client/command/season_book.hpp"

namespace takehold::client {
namespace {

using testing::HasSubstr;
namespace fs = std::filesystem;

class BookKeeping : public SeasonBook {
 protected:
  std::string path(const char* name) const { return (folder_ / name).string(); }
  static std::string text_of(const fs::path& file) {
    std::ifstream in(file, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
  }
  void fill() const {
    done({"sow", "QP-24", "9", "--on", "2027-03-20"});
    done({"sow", "IF-26", "9", "--on", "2027-03-17"});
    done({"emerged", "S1", "8", "--on", "2027-03-30"});
    done({"measure", "S1", "2.0", "2.1", "--note", "first, \"hasty\" look"});
    done({"graft", "P1", "--count", "3", "--at", "2027-04-01T09:00:00Z"});
    done({"lose", "G1", "--plants", "2"});
  }
};

TEST_F(BookKeeping, a_closed_season_takes_no_record_until_the_next_begins) {
  fill();
  const auto open_batch = told({"season", "close"});
  EXPECT_EQ(open_batch.document()["error"]["code"], "not-finished");
  EXPECT_THAT(open_batch.err, HasSubstr("G1"));
  done({"finish", "G1", "--taken", "2"});
  const auto closed = done({"season", "close", "--archive", path("2027.db")});
  EXPECT_EQ(closed["season"], "2027");
  EXPECT_TRUE(fs::exists(path("2027.db")));
  EXPECT_EQ(refused({"sow", "QP-24", "2"}), "season-closed");
  EXPECT_EQ(refused({"season", "close"}), "season-closed");
  EXPECT_EQ(refused({"plan", "--accept"}), "season-closed");
  done({"season", "write", path("same.toml")});
  EXPECT_EQ(refused({"season", "load", path("same.toml")}), "season-closed");
  EXPECT_EQ(done({"takes"})["rows"][0]["taken"], 2) << "looking is still free";
  done({"season", "new", path("2028.toml")});
  done({"season", "load", path("2028.toml"), "--sheet-wins"});
  EXPECT_EQ(done({"sow", "QP-24", "2"})["id"], "S3");
}

TEST_F(BookKeeping, closing_drops_what_was_planned_and_is_one_undo) {
  done({"plan", "--accept", "--now", "2027-02-01T09:00:00Z"});
  const auto planned = open().all<PlannedSowing>().size();
  ASSERT_GT(planned, 0U);
  done({"season", "close"});
  EXPECT_TRUE(done({"today"})["tasks"].empty());
  EXPECT_TRUE(open().all<PlannedSowing>().empty());
  done({"undo"});
  EXPECT_EQ(open().all<PlannedSowing>().size(), planned);
}

TEST_F(BookKeeping, exported_tables_taken_in_again_change_nothing) {
  fill();
  const auto exported = done({"export", path("out")});
  EXPECT_EQ(refused({"export", path("out")}), "folder-not-empty");
  EXPECT_THAT(text_of(path("out/dictionary.csv")), HasSubstr("lot,year,whole number,,1,,"));
  const auto before = open().commands().size();
  const auto taken = done({"import", path("out")});
  EXPECT_EQ(taken["unchanged"], exported["records"]);
  EXPECT_TRUE(taken["added"].empty() && taken["changed"].empty() && taken["missing"].empty());
  EXPECT_EQ(open().commands().size(), before);
}

TEST_F(BookKeeping, a_new_book_made_of_the_tables_writes_the_same_tables) {
  fill();
  done({"export", path("out")});
  const std::string other = path("other.db");
  const Said said = run({"--book", other, "import", path("out"), "--daemon",
                         "unix:" + path("nobody.sock"), "--json"});
  ASSERT_EQ(said.exit_code, 0) << said.err;
  ASSERT_EQ(run({"--book", other, "export", path("again"), "--json"}).exit_code, 0);
  for (const auto& entry : fs::directory_iterator(path("out"))) {
    const auto name = entry.path().filename();
    if (name == "book.csv") continue;  // another book has another number
    const auto without_entered = [](std::string text) {
      // What differs is when the book was told: the last column of every table.
      std::string kept;
      std::istringstream lines(text);
      for (std::string line; std::getline(lines, line);)
        kept += line.substr(0, line.rfind(',')) + "\n";
      return kept;
    };
    EXPECT_EQ(without_entered(text_of(fs::path(path("again")) / name)),
              without_entered(text_of(entry.path())))
        << name;
  }
  const Said foreign = run({"--book", other, "import", path("out"), "--json"});
  EXPECT_EQ(foreign.document()["error"]["code"], "other-book");
}

TEST_F(BookKeeping, a_cell_changed_in_a_spreadsheet_is_one_change_and_one_undo) {
  fill();
  done({"export", path("out")});
  std::string lots = text_of(path("out/lot.csv"));
  lots.replace(lots.find("2024"), 4, "2025");
  std::ofstream(path("out/lot.csv"), std::ios::binary) << lots;
  const auto taken = done({"import", path("out/lot.csv")});
  ASSERT_EQ(taken["changed"].size(), 1U);
  EXPECT_EQ(taken["changed"][0]["key"], "QP-24");
  EXPECT_EQ(open().find<Lot>("QP-24")->year, 2025);
  done({"undo"});
  EXPECT_EQ(open().find<Lot>("QP-24")->year, 2024);
  lots.replace(lots.find("2025"), 4, "soon");
  std::ofstream(path("out/lot.csv"), std::ios::binary) << lots;
  const auto before = open().commands().size();
  EXPECT_EQ(refused({"import", path("out")}), "bad-value");
  EXPECT_EQ(open().commands().size(), before);
  EXPECT_EQ(refused({"import", path("nowhere.csv")}), "file-not-read");
}

TEST_F(BookKeeping, the_doctor_says_what_is_wrong_and_what_to_do) {
  EXPECT_EQ(done({"doctor"})["well"], true);
  const auto early = done({"doctor", "--now", "2027-01-01T00:00:00Z"});
  EXPECT_EQ(early["well"], false);
  EXPECT_THAT(early.dump(), HasSubstr("set the machine's clock"));
  fill();
  const auto waiting = done({"doctor"})["checks"];
  const auto outbox = std::find_if(waiting.begin(), waiting.end(),
                                   [](const auto& check) { return check["about"] == "outbox"; });
  ASSERT_NE(outbox, waiting.end());
  EXPECT_THAT((*outbox)["text"].get<std::string>(), HasSubstr("G1 waits"));
  EXPECT_EQ((*outbox)["advice"], "takehold send");
  const Said none = run({"--book", path("none.db"), "doctor", "--json"});
  EXPECT_EQ(none.exit_code, 0);
  EXPECT_FALSE(fs::exists(path("none.db")));
}

}  // namespace
}  // namespace takehold::client
