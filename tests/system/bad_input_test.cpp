// Bad input through the real programs: a clear error that names the place, and the book unchanged.
#include <gmock/gmock.h>

#include <filesystem>
#include <fstream>

#include "tests/system/real_place.hpp"

namespace takehold::testing {
namespace {

using ::testing::HasSubstr;

class BadInput : public RealPlace {
 protected:
  void SetUp() override {
    write("season.toml", small_sheet(day_ago(-14)));
    now_ = days_ago(40);
    done({"season", "load", file("season.toml")});
    done({"sow", "QP", "20"});
  }
  /// Refused with this exit code, this error code, a sentence that names `where`, the same in
  /// text; and not one byte of the book is another.
  void expect_refused(std::vector<std::string> words, int exit_code, const std::string& code,
                      const std::string& where) const {
    SCOPED_TRACE(words.back());
    const std::string before = bytes(book());
    const Said plain = told(words);
    words.emplace_back("--json");
    const Said said = told(words);
    EXPECT_EQ(said.exit_code, exit_code);
    EXPECT_EQ(plain.exit_code, exit_code);
    ASSERT_TRUE(said.document().contains("error")) << said.out;
    const auto error = said.document()["error"];
    EXPECT_EQ(error["code"], code);
    for (const char* key : {"title", "detail", "where", "hint"}) EXPECT_TRUE(error.contains(key));
    EXPECT_THAT(plain.err, HasSubstr(where));
    EXPECT_EQ(plain.out, "");
    EXPECT_EQ(bytes(book()), before);
  }
  void load_with(const std::string& name, const std::string& line, const std::string& code,
                 const std::string& where) const {
    write(name, small_sheet(day_ago(-14)) + line);
    expect_refused({"season", "load", file(name)}, 1, code, where);
  }
};

// small_sheet has 30 lines; what is added stands from the 31st on.
TEST_F(BadInput, a_sheet_with_a_mistake_is_refused_by_file_and_line) {
  load_with("key.toml", "wnat = 6\n", "unknown-key", "key.toml:31");
  load_with("label.toml",
            "[[lot]]\nlabel = \"QP\"\nvariety = \"Ironfoot\"\nyear = 2026\nseeds = 3\n", "twice",
            "label.toml:31");
  write("date.toml", "season = \"next\"\nready_on = 2027-02-30\n");
  expect_refused({"season", "load", file("date.toml")}, 1, "bad-toml", "date.toml:2");
  expect_refused({"season", "load", file("nowhere.toml")}, 1, "file-not-read", "nowhere.toml");
}

TEST_F(BadInput, what_cannot_be_is_refused_by_its_argument) {
  expect_refused({"sow", "ZZ", "4"}, 1, "not-there", "ZZ");
  expect_refused({"measure", "S1", "2.0", "23"}, 1, "bad-diameter", "23");
  expect_refused({"measure", "S9", "2.0"}, 1, "not-there", "S9");
  expect_refused({"lot", "add", "QP", "--variety", "Ironfoot", "--seeds", "3"}, 1, "exists", "QP");
  expect_refused({"emerged", "S1", "8", "--on", "2026-02-30"}, 2, "bad-date", "--on");
  expect_refused({"emerged", "S1", "8", "--on", day_ago(2)}, 1, "in-the-future", "--on");
  expect_refused({"emerged", "S1", "21"}, 1, "more-than-sown", "S1");
  expect_refused({"emerge", "S1", "8"}, 2, "unknown-command", "emerged");
  expect_refused({"emerged", "S1", "many"}, 2, "usage", "standing");
}

TEST_F(BadInput, a_book_of_a_newer_version_is_left_as_it_is) {
  output_of("sqlite3 '" + book() + "' 'PRAGMA user_version = 999'");
  for (const auto& words :
       {std::vector<std::string>{"today"}, {"sow", "QP", "4"}, {"undo"}, {"send"}}) {
    expect_refused(words, 1, "newer-schema", "book.db");
  }
}

TEST_F(BadInput, a_book_cut_short_is_left_as_it_is) {
  const std::string whole = bytes(book());
  for (const std::size_t kept : {std::size_t{100}, whole.size() / 3, whole.size() - 4096}) {
    std::ofstream(book(), std::ios::binary) << whole.substr(0, kept);
    expect_refused({"sow", "QP", "4"}, 1, "damaged-file", "book.db");
  }
}

// A peer on the wire that answers each question with the beginning of a frame: no reading, said so,
// and no more time lost than the probe's timeout allows.
TEST_F(BadInput, a_truncated_frame_is_no_reading) {
  write("peer.sh",
        "while [ \"$(head -c 8 | wc -c)\" = 8 ]; do printf '\\001\\004\\004\\000'; done");
  RunningProgram wire({"/usr/bin/socat", "pty,raw,echo=0,link=" + file("left.tty"),
                       "SYSTEM:sh " + file("peer.sh")});
  write("modbus.toml",
        "[[probe]]\nname = \"left\"\nkind = \"serial\"\ndevice = \"" + file("left.tty") + R"("
every = "1s"
timeout = "500ms"
modbus = { unit = 1, temperature = { function = 4, address = 1, scale = 0.1 }, humidity = { function = 4, address = 2, scale = 0.1 } }
)");
  ASSERT_TRUE(becomes_true([&] { return std::filesystem::exists(file("left.tty")); },
                           std::chrono::seconds(10)));
  const Said once = ran("chamberd", {"--settings", file("modbus.toml"), "--once"});
  EXPECT_EQ(once.exit_code, 1);
  EXPECT_THAT(once.out, HasSubstr("\"quality\":\"none\""));
  EXPECT_THAT(once.out, HasSubstr("\"probe\":\"left\""));
}

}  // namespace
}  // namespace takehold::testing
