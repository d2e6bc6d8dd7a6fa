// A task's own sentence tells when it is to be done. Expected values by hand, from the grammar in
// docs/formats/regime.md.
#include "daemon/healing/chore.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "daemon/healing/regime_toml.hpp"

namespace takehold::daemon {
namespace {

using namespace std::chrono_literals;
using testing::ElementsAre;
using testing::HasSubstr;

TEST(Chore, hours_are_of_every_day) {
  const auto chore = chore_of("mist, not the cuts, at 18:00, 8:00 and 13:00");
  EXPECT_EQ(chore.what, "mist, not the cuts");
  EXPECT_THAT(chore.times, ElementsAre(8h, 13h, 18h));
  EXPECT_TRUE(chore.daily);
  EXPECT_TRUE(chore.falls_on(0));
  EXPECT_TRUE(chore.falls_on(9));
}

TEST(Chore, what_follows_the_hours_is_kept) {
  EXPECT_EQ(chore_of("look at 8:00 and 18:00, open only for a moment").what,
            "look, open only for a moment");
}

TEST(Chore, an_hour_on_a_day_is_of_that_day_alone) {
  const auto chore = chore_of("open for half an hour at 9:00 on day 4");
  EXPECT_EQ(chore.what, "open for half an hour");
  EXPECT_FALSE(chore.falls_on(3));
  EXPECT_TRUE(chore.falls_on(4));
  EXPECT_FALSE(chore.falls_on(5));
}

TEST(Chore, without_an_hour_it_is_due_from_its_day_on_until_it_is_done) {
  const auto chore = chore_of("remove the clips on day 12, if the union holds without");
  EXPECT_EQ(chore.what, "remove the clips, if the union holds without");
  EXPECT_FALSE(chore.daily);
  EXPECT_FALSE(chore.falls_on(11));
  EXPECT_TRUE(chore.falls_on(14));
}

TEST(Chore, days_have_ends_or_none) {
  const auto some = chore_of("open for four hours at 9:00 on days 7 to 8");
  EXPECT_TRUE(some.falls_on(8));
  EXPECT_FALSE(some.falls_on(9));
  const auto on = chore_of("turn the trays each morning from day 3 on");
  EXPECT_EQ(on.what, "turn the trays");
  EXPECT_THAT(on.times, ElementsAre(8h));
  EXPECT_FALSE(on.falls_on(2));
  EXPECT_TRUE(on.falls_on(300));
}

TEST(Chore, a_sentence_without_a_time_is_advice_and_stays_as_it_is) {
  for (const char* text :
       {"do not soak the soil", "look at the union", "at noon", "go on at 25:00", "on day x",
        "leave it at 8", "each time you pass", "count the takes between day 6 and day 14", ""}) {
    EXPECT_FALSE(chore_of(text).is_timed()) << text;
    EXPECT_EQ(chore_of(text).what, text);
  }
}

TEST(Chore, a_look_for_roots_is_no_look_at_the_leaves) {
  EXPECT_TRUE(chore_of("look at 8:00").is_look());
  EXPECT_TRUE(chore_of("look, through the lid, at 8:00").is_look());
  EXPECT_FALSE(chore_of("look for roots above the union on day 6").is_look());
}

TEST(Chore, how_many_looks_a_stage_waits_for) {
  EXPECT_EQ(looks_in_a_row("no wilting at two looks in a row"), 2);
  EXPECT_EQ(looks_in_a_row("no leaf hangs at 3 looks, one after the other"), 3);
  EXPECT_EQ(looks_in_a_row("the union is firm"), std::nullopt);
}

// Mains and mist apart, behind a residual-current device of 30 mA (IEC 61008, from memory): said
// where it is needed, and once, lest nobody reads it.
TEST(Chore, every_plan_says_once_to_keep_mains_and_water_apart) {
  for (const auto& name : built_in_regime_names()) {
    int said = 0;
    for (const auto& stage : find_regime(name, {}).value().stages) {
      for (const auto& task : stage.tasks) said += task.find("mains") != std::string::npos;
    }
    EXPECT_EQ(said, 1) << name;
  }
}

TEST(Chore, built_in_plans_have_the_tasks_of_the_trade_with_their_times) {
  struct Wanted {
    const char *plan, *task;
  };
  for (const auto& [plan, task] :
       {Wanted{"steady", "mist"}, Wanted{"steady", "refill"}, Wanted{"steady", "open for half"},
        Wanted{"steady", "look for roots above the union and shoots below it"},
        Wanted{"steady", "remove the clips"}, Wanted{"side", "sever"}}) {
    bool timed = false;
    for (const auto& stage : find_regime(plan, {}).value().stages) {
      for (const auto& text : stage.tasks) {
        const auto chore = chore_of(text);
        timed = timed || (chore.is_timed() && chore.what.starts_with(task));
      }
    }
    EXPECT_TRUE(timed) << plan << ": " << task;
  }
}

}  // namespace
}  // namespace takehold::daemon
