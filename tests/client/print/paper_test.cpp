// Pages looked at by other programs: pdftotext, pdftoppm and pdfinfo of Poppler, zbarimg of ZBar.
#include "client/print/paper.hpp"

#include <gtest/gtest.h>

#include "page_support.hpp"
#include "sensors/quantity/problem.hpp"

namespace takehold::client {
namespace {

class PaperTest : public PageTest {};

TEST_F(PaperTest, a_text_that_fits_stands_there_whole) {
  Paper paper = pdf({100, 100});
  EXPECT_EQ(paper.text({10, 10, 80, 10}, "Quarry Pink"), Fit::whole);
  paper.finish();
  EXPECT_EQ(words(), "Quarry Pink");
  EXPECT_NE(testing::answer_of("pdfinfo " + file()).find("Pages:           1"), std::string::npos);
}

TEST_F(PaperTest, a_text_too_long_for_a_line_is_broken_then_made_smaller_and_stays_whole) {
  const std::string name = "The long yellow one from the garden behind the old mill by the river";
  Paper paper = pdf({100, 100});
  EXPECT_EQ(paper.text({10, 10, 40, 10}, name, {.size_pt = 14, .smallest_pt = 5}), Fit::whole);
  paper.finish();
  EXPECT_EQ(words(), name);
  EXPECT_TRUE(is_white_outside({10, 10, 40, 10}));
}

TEST_F(PaperTest, what_cannot_fit_is_shortened_inside_its_box_and_said) {
  const std::string name(400, 'm');
  Paper paper = pdf({100, 100});
  EXPECT_EQ(paper.text({10, 10, 30, 5}, name, {.size_pt = 12, .smallest_pt = 6}), Fit::shortened);
  paper.finish();
  EXPECT_TRUE(is_white_outside({10, 10, 30, 5}));
}

TEST_F(PaperTest, scripts_of_the_world_come_out_as_they_went_in) {
  Paper paper = pdf({100, 100});
  double y = 0;
  for (const char* name : {"Žlutý obr", "Бычье сердце", "Κόκκινη ντομάτα"}) {
    EXPECT_EQ(paper.text({10, y += 10, 80, 10}, name), Fit::whole);
  }
  EXPECT_EQ(paper.letters_without_font(), 0);
  paper.finish();
  for (const char* name : {"Žlutý obr", "Бычье сердце", "Κόκκινη ντομάτα"}) {
    EXPECT_NE(words().find(name), std::string::npos) << name;
  }
}

TEST_F(PaperTest, a_code_is_read_back_by_another_program) {
  Paper paper = pdf({60, 40});
  paper.code({5, 5, 15, 15}, "G7-3");
  paper.turned({30, 5, 20, 30}, [&](const Box& box) { paper.code(box, "S12"); });
  paper.finish();
  const std::string read = testing::answer_of("zbarimg --nodbus -q --raw " + image(300));
  EXPECT_NE(read.find("G7-3\n"), std::string::npos) << read;
  EXPECT_NE(read.find("S12\n"), std::string::npos) << read;
  EXPECT_THROW(pdf({60, 40}).code({5, 5, 15, 15}, std::string(4000, 'x')), sensors::Refused);
}

TEST_F(PaperTest, the_same_drawing_is_the_same_file_and_an_unfinished_one_touches_none) {
  const auto draw = [&] {
    Paper paper = pdf({60, 40});
    paper.text({5, 5, 50, 10}, "S12");
    paper.finish();
    return bytes();
  };
  const std::string first = draw();
  EXPECT_EQ(draw(), first);
  { Paper unfinished = pdf({60, 40}); }
  EXPECT_EQ(bytes(), first);
  Paper nowhere(folder() / "not there" / "x.pdf", PaperKind::pdf, {60, 40}, kMadeAt);
  EXPECT_THROW(nowhere.finish(), sensors::Refused);
}

TEST_F(PaperTest, an_svg_and_a_png_hold_one_page) {
  Paper svg = Paper::svg_text({60, 40});
  svg.text({5, 5, 50, 10}, "S12");
  EXPECT_THROW(svg.next_page(), sensors::Refused);
  svg.finish();
  EXPECT_NE(svg.svg().find("<svg"), std::string::npos);
  EXPECT_EQ(paper_kind("a.png"), PaperKind::png);
  EXPECT_EQ(paper_kind("a.doc"), std::nullopt);
  Paper png(folder() / "x.png", PaperKind::png, {60, 40}, kMadeAt);
  png.code({0, 0, 40, 40}, "S12");
  png.finish();
  EXPECT_EQ(testing::answer_of("zbarimg --nodbus -q --raw " + (folder() / "x.png").string()),
            "S12\n");
}

}  // namespace
}  // namespace takehold::client
