#include "client/plan/tray_layout.hpp"

#include <gtest/gtest.h>

#include <map>
#include <random>

namespace takehold::client {
namespace {

TEST(TrayLayout, small_lots_share_a_tray_and_none_is_cut_without_need) {
  // 8 + 4 + 2 + 4 cells are three trays of 6: 6 | 2 4 | 2 4 would cut none but the first.
  const std::vector<TrayNeed> needs{{"A", 16, 8}, {"B", 8, 4}, {"C", 4, 2}, {"D", 8, 4}};
  const auto trays = fill_trays(needs, 6);
  ASSERT_EQ(trays.size(), 3U);
  std::map<std::size_t, int> in_trays;
  for (const FilledTray& tray : trays)
    for (const TrayRun& run : tray.runs) ++in_trays[run.need];
  EXPECT_EQ(in_trays[0], 2);
  EXPECT_EQ(in_trays[1], 1);
  EXPECT_EQ(in_trays[2], 1);
  EXPECT_EQ(in_trays[3], 1);
}

TEST(TrayLayout, every_cell_holds_one_lot_and_lots_stay_together) {
  std::mt19937 random(99);
  for (int round = 0; round < 200; ++round) {
    const int size = 1 + static_cast<int>(random() % 24);
    std::vector<TrayNeed> needs;
    int all = 0;
    for (std::size_t i = 0; i < 1 + random() % 9; ++i) {
      const int cells = static_cast<int>(random() % 30);
      needs.push_back({"L", cells * 2 - (cells > 0 ? 1 : 0), cells});
      all += cells;
    }
    const auto trays = fill_trays(needs, size);
    EXPECT_EQ(trays.size(), static_cast<std::size_t>((all + size - 1) / size));
    std::map<std::size_t, std::vector<int>> cells;  // of each lot, counted over all trays
    std::map<std::size_t, int> seeds;
    for (std::size_t t = 0; t < trays.size(); ++t) {
      int next = 1;
      for (const TrayRun& run : trays[t].runs) {
        EXPECT_EQ(run.first_cell, next);  // so no cell is in two runs
        next += run.cells;
        EXPECT_LE(next, size + 1);
        seeds[run.need] += run.seeds;
        EXPECT_LE(run.seeds, 2 * run.cells);
        for (int c = 0; c < run.cells; ++c)
          cells[run.need].push_back(static_cast<int>(t) * size + run.first_cell + c);
      }
    }
    for (std::size_t i = 0; i < needs.size(); ++i) {
      EXPECT_EQ(static_cast<int>(cells[i].size()), needs[i].cells);
      EXPECT_EQ(seeds[i], needs[i].seeds);
      for (std::size_t c = 1; c < cells[i].size(); ++c) EXPECT_EQ(cells[i][c], cells[i][c - 1] + 1);
    }
  }
}

}  // namespace
}  // namespace takehold::client
