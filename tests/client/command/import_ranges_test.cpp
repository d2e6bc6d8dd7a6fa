// What a spreadsheet may not make of a book: everything that no command would have recorded.
#include <gmock/gmock.h>

#include <fstream>

#include "client/season/crop.hpp"
#include "tests/client/command/season_book.hpp"

namespace takehold::client {
namespace {

using testing::HasSubstr;

class ImportRanges : public SeasonBook {
 protected:
  ImportRanges() {
    tell({"sow", "QP-24", "8"}, "2027-03-20");
    tell({"sow", "IF-26", "6"}, "2027-03-17");
    tell({"emerged", "S1", "8"}, "2027-03-30");
    tell({"emerged", "S2", "6"}, "2027-03-30");
    tell({"measure", "S1", "2.0", "2.1"}, "2027-04-10");
    tell({"graft", "P1", "--count", "5"}, "2027-04-12");
    tell({"lose", "G1", "--plants", "2", "--cause", "wilted"}, "2027-04-14");
    tell({"cull", "S1", "--count", "1"}, "2027-04-14");
    tell({"finish", "G1"}, "2027-04-22");
    tell({"setout", "G1", "--union", "60mm"}, "2027-05-20");
    tell({"harvest", "G1", "3=1.25/14"}, "2027-07-20");
    tell({"remark", "G1", "taste", "7.5", "--plants", "3"}, "2027-08-01");
    tell({"lot", "test", "QP-24", "18/20"}, "2027-01-10");
    done({"export", out(), "--now", kNow});
  }
  void tell(std::vector<std::string> words, const char* day) const {
    words.insert(words.end(), {"--on", day, "--now", kNow});
    done(std::move(words));
  }
  std::string out() const { return (folder_ / "out").string(); }
  static std::string text_of(const std::filesystem::path& path) {
    std::ifstream in(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
  }
  /// The code with which one table is refused, one column of its first row being another value; and
  /// nothing may have changed.
  std::string refused_with(const std::string& table, const std::string& column,
                           const std::string& value) const {
    const auto path = std::filesystem::path(out()) / (table + ".csv");
    const std::string before = text_of(path);
    const auto told_before = open().nouns().size();
    const auto commands = open().commands().size();
    std::ofstream(path, std::ios::binary) << changed(before, column, value);
    const Said said = told({"import", out(), "--now", kNow});
    std::ofstream(path, std::ios::binary) << before;
    EXPECT_EQ(said.exit_code, 1) << table << " " << column << " " << value;
    EXPECT_EQ(open().commands().size(), commands);
    EXPECT_EQ(open().nouns().size(), told_before);
    if (said.exit_code != 1) return "taken";
    return said.document()["error"]["code"];
  }

  static constexpr const char* kNow = "2027-09-30T18:00:00Z";

 private:
  static std::vector<std::string> fields(const std::string& line) {
    std::vector<std::string> all(1);
    bool quoted = false;
    for (const char c : line) {
      if (c == '"') quoted = !quoted;
      if (c == ',' && !quoted) {
        all.emplace_back();
      } else if (c != '\r') {
        all.back() += c;
      }
    }
    return all;
  }
  static std::string changed(const std::string& text, const std::string& column,
                             const std::string& value) {
    const auto head_end = text.find('\n'), row_end = text.find('\n', head_end + 1);
    const auto heads = fields(text.substr(0, head_end));
    auto row = fields(text.substr(head_end + 1, row_end - head_end - 1));
    const auto at = std::find(heads.begin(), heads.end(), column) - heads.begin();
    row.at(static_cast<std::size_t>(at)) = value;
    std::string line;
    for (const auto& field : row) line += (line.empty() ? "" : ",") + field;
    return text.substr(0, head_end + 1) + line + text.substr(row_end);
  }
};

TEST_F(ImportRanges, numbers_are_held_to_what_the_commands_hold_them_to) {
  const std::vector<std::array<const char*, 3>> bad{
      {"lot", "seeds", "-1"},
      {"lot", "year", "24"},
      {"lot_test", "sprouted", "21"},
      {"season", "confidence", "1.5"},
      {"season", "tolerance_pct", "0"},
      {"season", "chamber_places", "0"},
      {"bench", "day_degc", "240"},
      {"bench", "name", "chamber"},
      {"variety", "name", "a/b"},
      {"pairing", "want", "-3"},
      {"sowing", "seeds", "0"},
      {"emerged", "standing", "-1"},
      {"measurement", "stems", R"("[{""number"":1,""diameter_mm"":200}]")"},
      {"loss", "count", "0"},
      {"loss", "count", "2"},
      {"cull", "count", "0"},
      {"finish", "given", "5"},
      {"finish", "taken", "-1"},
      {"set_out", "union_height_mm", "6000"},
      {"harvest", "weight_kg", "0"},
      {"harvest", "weight_kg", "1250"},
      {"harvest", "fruits", "0"},
      {"remark", "score", "11"},
      {"remark", "about", "disease"}};
  for (const auto& [table, column, value] : bad) {
    EXPECT_EQ(refused_with(table, column, value), "out-of-range") << table << " " << column;
  }
}

TEST_F(ImportRanges, tables_that_contradict_each_other_are_refused_whole) {
  EXPECT_EQ(refused_with("finish", "taken", "5"), "more-than-stand");
  EXPECT_EQ(refused_with("finish", "taken", "3"), "more-than-stand") << "four were set out";
  EXPECT_EQ(refused_with("finish", "at", "2027-04-11T12:00:00Z"), "before-grafting");
  EXPECT_EQ(refused_with("emerged", "standing", "9"), "more-than-sown");
  EXPECT_EQ(refused_with("loss", "plants", "[7]"), "no-such-graft");
  EXPECT_EQ(refused_with("harvest", "plant", "6"), "no-such-graft");
  EXPECT_EQ(refused_with("harvest", "at", "2028-04-11T12:00:00Z"), "in-future");
  EXPECT_EQ(refused_with("harvest", "subject", "G9"), "not-there");
  EXPECT_EQ(refused_with("batch", "regime_plan", "{}"), "missing-field");
  EXPECT_EQ(refused_with("loss", "late", "soon"), "bad-value");
}

TEST_F(ImportRanges, a_mistake_names_its_line_and_its_column) {
  const auto path = std::filesystem::path(out()) / "harvest.csv";
  std::string text = text_of(path);
  text.replace(text.find("1.25"), 4, "9999");
  std::ofstream(path, std::ios::binary) << text;
  const auto error = told({"import", out(), "--now", kNow}).document()["error"];
  EXPECT_THAT(error["where"].get<std::string>(), HasSubstr("harvest.csv:2"));
  EXPECT_THAT(error.dump(), HasSubstr("weight_kg"));
}

}  // namespace
}  // namespace takehold::client
