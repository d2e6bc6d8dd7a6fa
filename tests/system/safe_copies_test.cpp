// Copies of the book and putting them back, while other processes use it; and a book that is
// broken.
#include <gmock/gmock.h>

#include <fstream>
#include <set>
#include <sstream>

#include "tests/system/real_place.hpp"

namespace takehold::testing {
namespace {

using namespace std::chrono_literals;
using nlohmann::json;
using ::testing::HasSubstr;

class SafeCopies : public RealPlace {
 protected:
  void SetUp() override {
    write("season.toml", small_sheet(day_ago(-14)));
    now_ = days_ago(40);
    done({"season", "load", file("season.toml")});
    done({"sow", "QP", "20"});
  }
  /// Everything in a book as SQLite's own shell writes it out.
  std::string dump(const std::string& path) const {
    return output_of("sqlite3 -readonly '" + path + "' .dump");
  }
};

TEST_F(SafeCopies, a_backup_holds_every_row_and_replaces_nothing_unasked) {
  const auto backup = done({"backup", file("copy.db")});
  EXPECT_GT(backup["rows"], 20);
  EXPECT_EQ(dump(file("copy.db")), dump(book()));
  EXPECT_EQ(refused({"backup", file("copy.db")}), "file-exists");
  EXPECT_EQ(refused({"backup", book(), "--replace"}), "same-file");
  EXPECT_EQ(done({"backup", file("copy.db"), "--replace"})["rows"], backup["rows"]);
}

TEST_F(SafeCopies, a_restore_brings_every_row_back_and_sets_the_other_aside) {
  done({"backup", file("copy.db")});
  const std::string then = dump(book());
  done({"sow", "QP", "5"});
  const std::string later = dump(book());
  EXPECT_EQ(refused({"restore", file("copy.db")}), "book-exists");
  EXPECT_EQ(dump(book()), later);
  const auto restored = done({"restore", file("copy.db"), "--replace"});
  EXPECT_EQ(dump(book()), then);
  EXPECT_EQ(dump(restored["set_aside"]), later);
  std::filesystem::remove(book());
  EXPECT_TRUE(done({"restore", file("copy.db")})["set_aside"].is_null());
  EXPECT_EQ(dump(book()), then);
}

TEST_F(SafeCopies, what_is_no_sound_copy_is_refused_and_the_book_stays) {
  const std::string before = dump(book());
  EXPECT_EQ(refused({"restore", file("nowhere.db"), "--replace"}), "no-file");
  write("text.db", std::string(2000, 'x'));
  EXPECT_EQ(refused({"restore", file("text.db"), "--replace"}), "damaged-file");
  output_of("sqlite3 '" + file("other.db") + "' 'CREATE TABLE t(x)'");
  EXPECT_EQ(refused({"restore", file("other.db"), "--replace"}), "not-ours");
  done({"backup", file("copy.db")});
  output_of("sqlite3 '" + file("copy.db") + "' 'PRAGMA user_version = 999'");
  EXPECT_EQ(refused({"restore", file("copy.db"), "--replace"}), "newer-schema");
  EXPECT_EQ(dump(book()), before);
}

// Another process records all the while. What it was told is recorded stands in the book or in what
// was set aside: nothing falls between. And no file is ever broken.
TEST_F(SafeCopies, a_book_in_use_is_copied_and_restored_whole) {
  write("busy.sh", "i=0; while [ ! -e '" + file("stop") +
                       "' ]; do i=$((i+1)); \"$@\" --note r$i >/dev/null && echo told r$i || echo "
                       "failed; done\n");
  std::vector<std::string> loop{"/bin/sh", file("busy.sh")};
  for (const auto& word : started("takehold", {"--now", now_, "sow", "QP", "1"})) {
    loop.push_back(word);
  }
  RunningProgram busy(loop);
  ASSERT_TRUE(busy.line_beginning("told", 20s));
  done({"backup", file("copy.db")});
  std::vector<std::string> files{book()};
  for (int round = 0; round < 5; ++round) {
    now_ = days_ago(39, 9 + round);  // another name for what is set aside
    files.push_back(done({"restore", file("copy.db"), "--replace"})["set_aside"]);
  }
  write("stop", "");
  const std::string told = busy.rest();
  EXPECT_EQ(told.find("failed"), std::string::npos);
  std::set<std::string> kept;
  for (const auto& path : files) {
    EXPECT_EQ(output_of("sqlite3 -readonly '" + path + "' 'PRAGMA integrity_check'"), "ok\n");
    std::istringstream notes(
        output_of("sqlite3 -readonly '" + path + "' 'SELECT note FROM sowing'"));
    for (std::string note; std::getline(notes, note);) kept.insert(note);
  }
  std::istringstream lines(told);
  int checked = 0;
  for (std::string word, note; lines >> word >> note; ++checked) {
    EXPECT_TRUE(kept.contains(note)) << note;
  }
  EXPECT_GT(checked, 5);
}

TEST_F(SafeCopies, what_can_be_read_of_a_damaged_book_is_saved_and_the_book_is_left) {
  for (int i = 0; i < 40; ++i) done({"sow", "QP", "1", "--note", std::string(400, 'n')});
  // Pages of zeros in the middle, where the sowings are.
  std::string broken = bytes(book());
  const auto rows_before =
      std::stoi(output_of("sqlite3 -readonly '" + book() + "' 'SELECT count(*) FROM sowing'"));
  const auto at = broken.find("nnnn", broken.size() / 2) / 4096 * 4096;
  broken.replace(at, 2 * 4096, 2 * 4096, '\0');
  std::ofstream(book(), std::ios::binary) << broken;

  const auto checks = done({"doctor"});
  EXPECT_EQ(checks["well"], false);
  EXPECT_THAT(checks.dump(), HasSubstr("--salvage"));
  const auto saved = done({"doctor", "--salvage", file("saved.db")});
  EXPECT_EQ(bytes(book()), broken);
  EXPECT_EQ(refused({"doctor", "--salvage", file("saved.db")}), "file-exists");
  const auto rows_after = std::stoi(
      output_of("sqlite3 -readonly '" + file("saved.db") + "' 'SELECT count(*) FROM sowing'"));
  EXPECT_LT(rows_after, rows_before);
  EXPECT_GT(rows_after, rows_before / 2);
  EXPECT_EQ(saved["new_identity"], false);

  EXPECT_TRUE(done({"restore", file("saved.db"), "--replace"})["set_aside"].is_string());
  EXPECT_EQ(done({"doctor"})["well"], true);
  const std::string next = done({"sow", "QP", "1"})["id"];
  EXPECT_GT(std::stoi(next.substr(1)), 41) << "no number is given twice";
}

TEST_F(SafeCopies, nothing_readable_is_said_to_be_so) {
  std::string broken = bytes(book());
  broken.replace(100, 3000, 3000, '\0');
  std::ofstream(book(), std::ios::binary) << broken;
  EXPECT_EQ(refused({"doctor", "--salvage", file("saved.db")}), "nothing-readable");
  EXPECT_FALSE(std::filesystem::exists(file("saved.db")));
  EXPECT_EQ(bytes(book()), broken);
}

}  // namespace
}  // namespace takehold::testing
