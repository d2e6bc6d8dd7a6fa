// Printed pages of a real book, read back by pdftotext and zbarimg.
#include <fstream>

#include "tests/client/command/season_book.hpp"
#include "tests/support/running_program.hpp"

namespace takehold::client {
namespace {

class Printing : public SeasonBook {
 protected:
  Printing() {
    done({"sow", "QP-24", "12", "--on", "2027-03-20"});
    done({"sow", "IF-26", "12", "--on", "2027-03-17"});
    done({"emerged", "S1", "10", "--on", "2027-03-30"});
    done({"emerged", "S2", "10", "--on", "2027-03-30"});
  }
  void measure() const {
    const auto stems = [&](const char* sowing, std::vector<std::string> mm) {
      mm.insert(mm.begin(), {"measure", sowing});
      mm.insert(mm.end(), {"--at", "2027-04-12T08:00:00Z"});
      done(mm);
    };
    stems("S1", {"2.0", "2.1", "1.6", "2.4", "1.2", "1.2", "1.2", "1.2", "1.2", "1.2"});
    stems("S2", {"2.1", "2.0", "2.3", "3.0", "3.5", "3.5", "3.5", "3.5", "3.5", "3.5"});
  }
  std::string path(const char* name) const { return (folder_ / name).string(); }
  std::string text(const char* name) const {
    return testing::answer_of("pdftotext -layout " + path(name) + " -");
  }
  static void expect_all(const std::string& text, std::initializer_list<const char*> parts) {
    for (const char* part : parts) EXPECT_NE(text.find(part), std::string::npos) << part;
  }
};

TEST_F(Printing, labels_carry_what_a_grower_writes_by_hand) {
  done({"graft", "P1", "--count", "3", "--on", "2027-04-12"});
  const auto said = done({"labels", "--batch", "G1", "--out", path("l.pdf")});
  EXPECT_EQ(said["file"], path("l.pdf"));
  EXPECT_EQ(said["pages"], 1);
  EXPECT_EQ(said["labels"].size(), 3u);
  expect_all(text("l.pdf"),
             {"Quarry Pink", "on Ironfoot", "tomato", "grafted 2027-04-12", "G1-1", "G1-3"});
  testing::answer_of("pdftoppm -r 150 -png -singlefile " + path("l.pdf") + " " + path("l"));
  const std::string codes = testing::answer_of("zbarimg --nodbus -q --raw " + path("l.png"));
  expect_all(codes, {"G1-1", "G1-2", "G1-3"});
}

TEST_F(Printing, a_sowing_gets_a_label_a_tray_or_a_cell_and_today_only_today_s) {
  EXPECT_EQ(done({"labels", "--sowings", "--out", path("l.pdf")})["labels"].size(), 2u);
  EXPECT_EQ(done({"labels", "S1", "--one-for", "cell", "--out", path("l.pdf")})["labels"].size(),
            6u);
  expect_all(text("l.pdf"), {"sown 2027-03-20", "QP-24", "S1"});
  EXPECT_EQ(refused({"labels", "--today", "--out", path("t.pdf")}), "nothing-to-print");
  EXPECT_FALSE(std::filesystem::exists(path("t.pdf")));
  done({"sow", "QP-24", "2"});
  EXPECT_EQ(done({"labels", "--today", "--out", path("t.pdf")})["labels"][0]["code"], "S3");
  EXPECT_EQ(told({"labels", "S1", "--sheet", "nothing", "--out", path("l.pdf")}).exit_code, 2);
  EXPECT_EQ(told({"labels", "S1", "--out", path("l.doc")}).exit_code, 2);
}

TEST_F(Printing, a_preview_writes_nothing) {
  const auto said = done({"labels", "--sowings", "--preview", "--out", path("l.pdf")});
  EXPECT_TRUE(said["file"].is_null());
  EXPECT_EQ(said["labels"][0]["headline"], "Quarry Pink");
  EXPECT_FALSE(std::filesystem::exists(path("l.pdf")));
}

TEST_F(Printing, trays_show_each_seedling_and_graft_in_its_place) {
  measure();
  done({"graft", "P1", "--count", "3", "--on", "2027-04-12"});
  const auto said = done({"trays", "--out", path("t.pdf")});
  EXPECT_EQ(said["trays"].size(), 3u);
  expect_all(text("t.pdf"), {"S1 Quarry Pink", "S2 Ironfoot", "11, 12", "G1-3"});
}

TEST_F(Printing, the_graft_sheet_is_in_tray_order_with_its_caution_once) {
  EXPECT_EQ(refused({"worksheet", "--graft", "P1", "--out", path("w.pdf")}), "not-measured");
  EXPECT_FALSE(std::filesystem::exists(path("w.pdf")));
  measure();
  done({"worksheet", "--graft", "P1", "--out", path("w.pdf")});
  const std::string page = text("w.pdf");
  expect_all(page, {"Quarry Pink on Ironfoot", "S2-1", "S1-2", "clip"});
  EXPECT_NE(page.find("never bleach"), std::string::npos);
  EXPECT_EQ(page.find("never bleach"), page.rfind("never bleach"));
}

TEST_F(Printing, the_chamber_card_shows_every_stage_in_words) {
  done({"worksheet", "--chamber", "--out", path("c.pdf")});
  expect_all(text("c.pdf"), {"closed", "venting", "22 to 29 °C", "95 to 100 % humidity", "30 mA"});
  EXPECT_EQ(refused({"worksheet", "--sowing", "--out", path("s.pdf")}), "nothing-to-print");
}

TEST_F(Printing, inches_where_the_grower_reads_inches) {
  measure();
  std::ofstream(path("us.toml")) << "units = \"us\"\n";
  done({"--settings", path("us.toml"), "worksheet", "--graft", "P1", "--out", path("w.pdf")});
  const auto sheet = text("w.pdf");
  expect_all(sheet, {" in ", "0.083", "clip, mm"});  // 2.1 mm; clips are sold in millimetres
  EXPECT_EQ(sheet.find("2.10"), std::string::npos);
  done({"--settings", path("us.toml"), "chart", "growth", "--out", path("g.pdf")});
  expect_all(text("g.pdf"), {"Stems below the seed leaves, in", "0.10"});
}

std::string bytes(const std::string& file) {
  std::ifstream in(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

TEST_F(Printing, charts_become_the_file_that_their_ending_says) {
  measure();
  done({"chart", "growth", "--out", path("g.svg")});
  done({"chart", "takes", "--out", path("t.png")});
  done({"chart", "plan", "--out", path("p.pdf")});
  EXPECT_NE(bytes(path("g.svg")).find("<svg"), std::string::npos);
  EXPECT_TRUE(bytes(path("t.png")).starts_with("\x89PNG\r\n\x1a\n"));
  expect_all(text("p.pdf"), {"The plan as accepted"});
  EXPECT_EQ(refused({"chart", "climate", "--out", path("c.svg")}), "connect-failed");
}

TEST_F(Printing, the_report_is_one_html_file_or_a_pdf_that_say_the_same) {
  done({"graft", "P1", "--count", "4", "--on", "2027-04-01"});
  done({"lose", "G1", "--plants", "2", "--cause", "wilted", "--on", "2027-04-03"});
  done({"finish", "G1", "--on", "2027-04-10"});
  measure();
  EXPECT_EQ(done({"report", "--out", path("r.html")})["pages"], 1);
  done({"report", "--out", path("r.pdf")});
  std::ifstream in(path("r.html"));
  const std::string html{std::istreambuf_iterator<char>(in), {}};
  for (const std::string& page : {html, text("r.pdf")}) {
    expect_all(page, {"Grafted tomatoes, season 2027", "What took", "3 of 4",
                      "Quarry Pink/Ironfoot", "wilted", "Worth trying next season"});
  }
  EXPECT_NE(html.find("<svg"), std::string::npos);
  EXPECT_EQ(html.find("src="), std::string::npos);  // nothing is fetched
  EXPECT_EQ(html.find("href=\"http"), std::string::npos);
}

}  // namespace
}  // namespace takehold::client
