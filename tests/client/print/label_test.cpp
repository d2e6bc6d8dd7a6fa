#include "client/print/label.hpp"

#include <algorithm>

#include "client/print/sheet_page.hpp"
#include "client/print/tray_map.hpp"
#include "page_support.hpp"
#include "sensors/quantity/problem.hpp"

namespace takehold::client {
namespace {

class LabelTest : public PageTest {
 protected:
  static Label graft() {
    return {"Quarry Pink",
            "on Ironfoot",
            {"tomato, pole (indeterminate), beefsteak", "grafted 2027-04-12"},
            "G7-3"};
  }
  std::vector<std::string> print(const LabelStock& stock, const std::vector<Label>& labels,
                                 int skip = 0) {
    Paper paper = pdf(stock.page);
    const auto shortened = draw_labels(paper, stock, labels, skip);
    pages_ = paper.pages();
    paper.finish();
    return shortened;
  }
  int pages_ = 0;
};

TEST_F(LabelTest, it_says_what_a_grower_writes_by_hand_and_its_code_is_read) {
  EXPECT_TRUE(print(*label_sheet("a4-24"), {graft()}).empty());
  for (const char* part :
       {"Quarry Pink", "on Ironfoot", "beefsteak", "pole", "2027-04-12", "G7-3"}) {
    EXPECT_NE(words().find(part), std::string::npos) << part << " in " << words();
  }
  EXPECT_EQ(testing::answer_of("zbarimg --nodbus -q --raw " + image(200)), "G7-3\n");
}

// Sheets, rolls and stakes, down to the smallest label sold as one.
TEST_F(LabelTest, nothing_leaves_the_label_whatever_its_size) {
  const Size sizes[] = {{70, 37}, {38.1, 21.2}, {57, 32}, {100, 15}, {20, 120}, {25, 10}};
  for (const Size& size : sizes) {
    const LabelStock stock =
        label_sheet_of({size.width + 40, size.height + 40}, size, {20, 20}, {});
    EXPECT_TRUE(print(stock, {graft()}).empty()) << size.width << " x " << size.height;
    EXPECT_TRUE(is_white_outside({20, 20, size.width, size.height}));
    EXPECT_NE(words().find("G7-3"), std::string::npos);
  }
}

TEST_F(LabelTest, names_too_long_for_the_label_are_named) {
  Label label = graft();
  label.headline = std::string(300, 'W');
  EXPECT_EQ(print(label_roll({30, 12}), {label}), std::vector<std::string>{"G7-3"});
  EXPECT_EQ(pages_, 1);
}

TEST_F(LabelTest, used_places_are_skipped_and_pages_follow) {
  const std::vector<Label> labels(24, graft());
  print(*label_sheet("a4-24"), labels);
  EXPECT_EQ(pages_, 1);
  print(*label_sheet("a4-24"), labels, 1);
  EXPECT_EQ(pages_, 2);
  print(*label_sheet("a4-24"), {graft()}, 4);  // second row, second column
  EXPECT_TRUE(is_white_outside({70, 37.5, 70, 37}));
}

TEST_F(LabelTest, a_page_holds_as_many_as_fit_and_none_is_refused) {
  EXPECT_EQ(label_sheet_of({210, 297}, {70, 37}, {}, {}).on_a_page(), 24);
  EXPECT_EQ(label_sheet_of({210, 297}, {70, 37}, {5, 5}, {2, 2}).on_a_page(), 14);
  EXPECT_THROW(label_sheet_of({100, 100}, {101, 10}, {}, {}), sensors::Refused);
}

TEST_F(LabelTest, a_stake_leaves_its_end_for_the_soil) {
  print(label_stake({20, 120}), {graft()});
  EXPECT_TRUE(is_white_outside({0, 0, 20, 90}));
  EXPECT_EQ(testing::answer_of("zbarimg --nodbus -q --raw " + image(300)), "G7-3\n");
}

TEST_F(LabelTest, tray_maps_follow_each_other_over_pages) {
  EXPECT_EQ(tray_columns(6), 3);
  EXPECT_EQ(tray_columns(12), 4);
  EXPECT_EQ(tray_columns(7), 7);
  std::vector<TrayMap> maps;
  for (int i = 1; i <= 20; ++i) {
    TrayMap map{"S" + std::to_string(i) + " Quarry Pink", "sown 2027-03-20", 3, {}};
    for (int cell = 1; cell <= 6; ++cell)
      map.cells.push_back({std::to_string(2 * cell), "2 seeds"});
    maps.push_back(map);
  }
  Paper paper = pdf({210, 297});
  EXPECT_TRUE(draw_tray_maps(paper, maps, "Trays").empty());
  EXPECT_EQ(paper.pages(), 2);  // five rows of two a page
  paper.finish();
  for (const TrayMap& map : maps) EXPECT_NE(words().find(map.title), std::string::npos);
}

TEST_F(LabelTest, a_long_table_repeats_its_head_on_every_page) {
  Paper paper = pdf({210, 297});
  SheetPage page(paper, "Sowing", "2027-03-20");
  const SheetColumn columns[] = {{"variety", 3}, {"lot"}, {"", 0.4, true}};
  const std::vector<std::vector<std::string>> rows(60, {"Quarry Pink", "QP-24", ""});
  page.table(columns, rows);
  page.caution("Cut away from the fingers.");
  EXPECT_FALSE(page.was_shortened());
  EXPECT_EQ(paper.pages(), 2);
  paper.finish();
  const std::string text = words();
  int heads = 0;
  for (auto at = text.find("variety"); at != std::string::npos; at = text.find("variety", at + 1)) {
    ++heads;
  }
  EXPECT_EQ(heads, 2);
}

}  // namespace
}  // namespace takehold::client
