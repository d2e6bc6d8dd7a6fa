#include "client/plan/season_planner.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "client/plan/counts.hpp"
#include "client/plan/work_days.hpp"
#include "sensors/quantity/problem.hpp"

namespace takehold::client {
namespace {

using sensors::Celsius;
using sensors::make_day;

Variety variety(const std::string& name, Species species = Species::lycopersicum) {
  Variety made;
  made.name = name;
  made.species = species;
  return made;
}

Lot lot(const std::string& label, const std::string& of, int year, int seeds) {
  Lot made;
  made.label = label;
  made.variety = of;
  made.year = year;
  made.seeds = seeds;
  made.origin = Origin::bought;
  return made;
}

Pairing pairing(const std::string& id, const std::string& scion, int want) {
  Pairing made;
  made.id = id;
  made.scion = scion;
  made.rootstock = "Ironfoot";
  made.want = want;
  return made;
}

PlanRequest season_of_two() {
  PlanRequest request;
  request.made_on = make_day(2027, 1, 10);
  request.seasons = 512;
  request.season.season = "2027";
  request.season.ready_on = make_day(2027, 5, 15);
  Bench bench;
  bench.name = "warm bench";
  bench.day = bench.night = Celsius::degc(22);
  request.benches = {bench};
  request.varieties = {variety("Quarry Pink"), variety("Tin Whistle"),
                       variety("Ironfoot", Species::interspecific)};
  request.lots = {lot("QP-26", "Quarry Pink", 2026, 200), lot("TW-26", "Tin Whistle", 2026, 200),
                  lot("IF-26", "Ironfoot", 2026, 200)};
  request.pairings = {pairing("P1", "Quarry Pink", 6)};
  return request;
}

const PlanNote* note(const SeasonPlan& plan, const std::string& code) {
  for (const auto& item : plan.warnings) {
    if (item.code == code) return &item;
  }
  return nullptr;
}

// Published practice: two weeks from graft to hardened (WSU FS051E), rootstock sown about 3 days
// before the scion, grafted 17.5-21 days after sowing (UConn Extension IPM).
TEST(SeasonPlanner, days_follow_published_practice) {
  const SeasonPlan plan = plan_season(season_of_two());
  const PlannedPairing& p = plan.pairings.at(0);
  EXPECT_EQ(p.graft_on, make_day(2027, 5, 1));
  ASSERT_EQ(p.scion_sowings.size(), 1u);
  ASSERT_EQ(p.rootstock_sowings.size(), 1u);
  const auto scion_age = *p.graft_on - p.scion_sowings[0].sow_on;
  EXPECT_GE(scion_age.count(), 18);
  EXPECT_LE(scion_age.count(), 21);
  EXPECT_EQ((p.scion_sowings[0].sow_on - p.rootstock_sowings[0].sow_on).count(), p.offset_days);
  EXPECT_GE(*p.offset_days, 2);
  EXPECT_LE(*p.offset_days, 4);
}

TEST(SeasonPlanner, counts_reach_the_confidence_without_waste) {
  PlanRequest request = season_of_two();
  request.seasons = 4096;
  const SeasonPlan plan = plan_season(request);
  const PlannedPairing& p = plan.pairings.at(0);
  EXPECT_GE(p.probability, 0.9);
  EXPECT_LT(p.probability, 0.91);
  EXPECT_GT(*p.standard_error, 0.001);
  EXPECT_LT(*p.standard_error, 0.005);  // sqrt(.9 * .1 / 4096) would be 0.0047
  EXPECT_GT(p.grafts, 7);               // want / 0.8 can never reach it
  EXPECT_GE(p.rootstock_sowings[0].seeds, p.grafts);
  EXPECT_EQ(p.rootstock_sowings[0].cells, (p.rootstock_sowings[0].seeds + 1) / 2);
  EXPECT_LE(p.finished.p10, p.finished.mean);
  EXPECT_GE(p.finished.p90, p.finished.mean);
  EXPECT_GE(p.finished.p10, 6);
  EXPECT_TRUE(p.limited_by);
  EXPECT_GT(p.cost, 0);
  EXPECT_EQ(plan.seasons, 4096);
}

TEST(SeasonPlanner, more_plants_or_more_confidence_need_more_seed) {
  const auto seeds = [](int want, double confidence) {
    PlanRequest request = season_of_two();
    request.lots[0].seeds = request.lots[2].seeds = 2000;
    request.pairings[0].want = want;
    request.season.confidence = confidence;
    const auto p = plan_season(request).pairings.at(0);
    return p.rootstock_sowings.at(0).seeds + p.scion_sowings.at(0).seeds;
  };
  EXPECT_LT(seeds(6, 0.7), seeds(6, 0.9));
  EXPECT_LT(seeds(6, 0.9), seeds(12, 0.9));
  EXPECT_LT(seeds(12, 0.9), seeds(30, 0.9));
}

TEST(SeasonPlanner, own_take_record_changes_the_grafts_to_make) {
  PlanRequest request = season_of_two();
  const int prior = plan_season(request).pairings.at(0).grafts;
  request.takes["Quarry Pink/Ironfoot"] = {48, 50};
  EXPECT_LT(plan_season(request).pairings.at(0).grafts, prior);
  request.takes["Quarry Pink/Ironfoot"] = {25, 50};
  EXPECT_GT(plan_season(request).pairings.at(0).grafts, prior);
}

TEST(SeasonPlanner, own_roots_are_the_smallest_exact_count) {
  PlanRequest request = season_of_two();
  request.pairings.clear();
  request.own_roots = {{"Quarry Pink", 3}};
  request.lot_tests = {{"QP-26", make_day(2027, 1, 5), 18, 20}};
  const SeasonPlan plan = plan_season(request);
  const PlannedOwnRoot& root = plan.own_root.at(0);
  const double prior = 17 * 0.97;  // bought, one year old, worth 20 seeds; then 18 of 20 sprouted
  const Chance viability{prior + 18, 20 - prior + 2};
  EXPECT_EQ(root.seeds, smallest_beta_binomial(3, viability, 0.9));
  EXPECT_NEAR(root.probability, beta_binomial_tail(3, root.seeds, viability), 1e-12);
  EXPECT_LT(beta_binomial_tail(3, root.seeds - 1, viability), 0.9);
  EXPECT_EQ(root.lot, "QP-26");
  ASSERT_EQ(plan.sowings.size(), 1u);
  EXPECT_EQ(plan.sowings[0].purposes, std::vector<std::string>{"own root"});
}

TEST(SeasonPlanner, sowing_and_grafting_fall_on_work_days) {
  PlanRequest request = season_of_two();
  request.season.free_days = {Weekday::sat, Weekday::sun};
  request.season.away = {{make_day(2027, 4, 24), make_day(2027, 5, 2)}};
  request.own_roots = {{"Tin Whistle", 2}};
  const SeasonPlan plan = plan_season(request);
  const PlannedPairing& p = plan.pairings.at(0);
  EXPECT_EQ(p.graft_on, make_day(2027, 4, 18));  // the last weekend before: a Sunday
  ASSERT_EQ(plan.sowings.size(), 3u);
  for (const auto& line : plan.sowings) EXPECT_TRUE(is_work_day(request.season, line.sow_on));
}

TEST(SeasonPlanner, days_before_the_plan_are_not_proposed_and_lateness_is_said) {
  PlanRequest request = season_of_two();
  request.made_on = make_day(2027, 5, 5);
  const SeasonPlan plan = plan_season(request);
  for (const auto& line : plan.sowings) EXPECT_GE(line.sow_on, request.made_on);
  ASSERT_NE(note(plan, "late"), nullptr);
  EXPECT_EQ(note(plan, "late")->about, "P1");
  EXPECT_EQ(plan.pairings.at(0).probability, 0.0);
  EXPECT_GT(*plan.pairings.at(0).graft_on, make_day(2027, 5, 1));
}

TEST(SeasonPlanner, what_is_the_same_for_several_pairings_is_said_once) {
  PlanRequest request = season_of_two();
  request.seasons = 128;
  request.pairings.push_back(pairing("P2", "Tin Whistle", 2));
  const auto times = [&](const std::string& code) {
    const SeasonPlan plan = plan_season(request);
    EXPECT_NE(note(plan, code), nullptr);
    EXPECT_EQ(note(plan, code)->about, "P1, P2");
    return std::count_if(plan.warnings.begin(), plan.warnings.end(),
                         [&](const PlanNote& one) { return one.code == code; });
  };
  request.made_on = make_day(2027, 5, 5);
  EXPECT_EQ(times("late"), 1);
  request.benches[0].day = request.benches[0].night = Celsius::degc(9);
  EXPECT_EQ(times("no-graft-day"), 1);
}

TEST(SeasonPlanner, ready_on_in_the_past_or_no_day_left_is_said_and_not_refused) {
  PlanRequest request = season_of_two();
  request.seasons = 128;
  request.own_roots = {{"Quarry Pink", 2}};
  request.made_on = make_day(2028, 1, 10);  // ready_on lies half a year back
  const SeasonPlan plan = plan_season(request);
  EXPECT_NE(note(plan, "late"), nullptr);
  EXPECT_EQ(plan.pairings.at(0).probability, 0);
  for (const SowingLine& line : plan.sowings) EXPECT_GE(line.sow_on, request.made_on);
  request.season.away = {{make_day(2028, 1, 1), make_day(2030, 1, 1)}};
  const SeasonPlan none = plan_season(request);
  EXPECT_NE(note(none, "no-graft-day"), nullptr);
  EXPECT_NE(note(none, "no-sowing-day"), nullptr);
  EXPECT_TRUE(none.sowings.empty());
}

TEST(SeasonPlanner, too_cold_a_bench_has_no_graft_day_and_says_so) {
  PlanRequest request = season_of_two();
  request.benches[0].day = request.benches[0].night = Celsius::degc(9);
  const SeasonPlan plan = plan_season(request);
  EXPECT_FALSE(plan.pairings.at(0).graft_on);
  EXPECT_EQ(plan.pairings.at(0).probability, 0.0);
  EXPECT_NE(note(plan, "no-graft-day"), nullptr);
  EXPECT_TRUE(plan.sowings.empty());
}

TEST(SeasonPlanner, scarce_rootstock_seed_is_shared_and_its_lack_is_priced) {
  PlanRequest request = season_of_two();
  request.pairings.push_back(pairing("P2", "Tin Whistle", 6));
  request.lots[2].seeds = 20;
  request.lots[2].price = 9.0;
  request.lots[2].packet_seeds = 10;
  const SeasonPlan plan = plan_season(request);
  int listed = 0;
  for (const auto& p : plan.pairings) {
    listed += p.rootstock_sowings.at(0).seeds;
    EXPECT_LT(p.probability, 0.9);
    EXPECT_EQ(p.limited_by, LimitedBy::seed);
  }
  EXPECT_EQ(listed, 20);
  const auto balance = std::find_if(plan.seeds.begin(), plan.seeds.end(),
                                    [](const auto& seed) { return seed.lot == "IF-26"; });
  ASSERT_NE(balance, plan.seeds.end());
  EXPECT_EQ(balance->on_hand, 20);
  EXPECT_EQ(balance->short_by, balance->needed - 20);
  EXPECT_GT(balance->short_by, 0);
  ASSERT_EQ(plan.buy.size(), 1u);
  EXPECT_EQ(plan.buy[0].seeds, balance->short_by);
  EXPECT_GT(plan.buy[0].plants_gained, 1.0);
  EXPECT_DOUBLE_EQ(*plan.buy[0].price, 9.0 * ((balance->short_by + 9) / 10));
  EXPECT_NE(note(plan, "seed-short"), nullptr);
}

// One draw of the lot, every pairing at its confidence, fewer rootstock seeds.
TEST(SeasonPlanner, sharing_a_lot_s_stems_saves_rootstock_seed) {
  PlanRequest request = season_of_two();
  request.seasons = 1024;
  request.season.free_days = {Weekday::sun};  // so that none apart goes in waves
  request.pairings.push_back(pairing("P2", "Tin Whistle", 6));
  const SeasonPlan together = plan_season(request);
  request.separate = true;
  const SeasonPlan apart = plan_season(request);
  EXPECT_TRUE(apart.shared.empty());
  ASSERT_EQ(together.shared.size(), 1u);
  const SharedSowing& shared = together.shared[0];
  EXPECT_EQ(shared.pairings, (std::vector<std::string>{"P1", "P2"}));
  int pooled = 0, separate = 0;
  double cost_pooled = 0, cost_separate = 0;
  for (std::size_t i = 0; i < 2; ++i) {
    EXPECT_GE(together.pairings[i].probability, 0.9 - 1e-9);
    pooled += together.pairings[i].rootstock_sowings.at(0).seeds;
    separate += apart.pairings[i].rootstock_sowings.at(0).seeds;
    cost_pooled += together.pairings[i].cost;
    cost_separate += apart.pairings[i].cost;
  }
  EXPECT_EQ(pooled, shared.seeds);
  EXPECT_EQ(separate, shared.seeds_apart);
  EXPECT_LT(pooled, separate);
  EXPECT_LT(cost_pooled, cost_separate);
}

TEST(SeasonPlanner, weight_decides_who_gets_scarce_seed) {
  PlanRequest request = season_of_two();
  request.pairings.push_back(pairing("P2", "Tin Whistle", 6));
  request.pairings[1].weight = 3;
  request.lots[2].seeds = 20;
  const SeasonPlan plan = plan_season(request);
  EXPECT_GT(plan.pairings[1].rootstock_sowings.at(0).seeds,
            plan.pairings[0].rootstock_sowings.at(0).seeds);
}

TEST(SeasonPlanner, without_a_lot_it_plans_one_bought_lot) {
  PlanRequest request = season_of_two();
  request.lots.pop_back();
  const SeasonPlan plan = plan_season(request);
  EXPECT_GE(plan.pairings.at(0).probability, 0.9);
  EXPECT_FALSE(plan.pairings.at(0).rootstock_sowings.at(0).lot);
  ASSERT_EQ(plan.buy.size(), 1u);
  EXPECT_EQ(plan.buy[0].variety, "Ironfoot");
  EXPECT_EQ(plan.buy[0].seeds, plan.pairings.at(0).rootstock_sowings[0].seeds);
  EXPECT_NE(note(plan, "no-seed"), nullptr);
}

TEST(SeasonPlanner, the_oldest_lot_that_suffices_is_sown) {
  PlanRequest request = season_of_two();
  request.lots.push_back(lot("QP-24", "Quarry Pink", 2024, 150));
  EXPECT_EQ(plan_season(request).pairings.at(0).scion_sowings.at(0).lot, "QP-24");
  request.lots.back().seeds = 5;
  EXPECT_EQ(plan_season(request).pairings.at(0).scion_sowings.at(0).lot, "QP-26");
  request.lots[0].seeds = 30;  // neither alone: all of the older, the rest of the younger
  const auto mixed = plan_season(request).pairings.at(0).scion_sowings;
  ASSERT_EQ(mixed.size(), 2u);
  EXPECT_EQ(mixed[0].lot, "QP-24");
  EXPECT_EQ(mixed[0].seeds, 5);
  EXPECT_EQ(mixed[1].lot, "QP-26");
  request.pairings[0].scion_lot = "QP-24";
  EXPECT_EQ(plan_season(request).pairings.at(0).scion_sowings.at(0).lot, "QP-24");
}

TEST(SeasonPlanner, names_that_are_not_there_are_refused) {
  PlanRequest request = season_of_two();
  request.pairings[0].scion_lot = "QP-99";
  EXPECT_THROW(plan_season(request), sensors::Refused);
  request = season_of_two();
  request.pairings[0].scion = "Nobody";
  EXPECT_THROW(plan_season(request), sensors::Refused);
}

TEST(SeasonPlanner, crowded_days_and_a_full_chamber_are_said) {
  PlanRequest request = season_of_two();
  request.season.grafts_per_day = 5;
  request.season.places = 4;
  const SeasonPlan plan = plan_season(request);
  EXPECT_NE(note(plan, "many-grafts"), nullptr);
  EXPECT_NE(note(plan, "chamber-full"), nullptr);
}

TEST(SeasonPlanner, json_has_every_key_of_the_contract) {
  PlanRequest request = season_of_two();
  request.own_roots = {{"Tin Whistle", 2}};
  request.lots[2].seeds = 10;
  const nlohmann::json json = plan_season(request);
  const auto has = [](const nlohmann::json& object, std::initializer_list<const char*> keys) {
    for (const char* key : keys) EXPECT_TRUE(object.contains(key)) << key;
  };
  has(json, {"confidence", "ready_on", "seasons", "seed", "pairings", "own_root", "sowings", "buy",
             "warnings"});
  has(json.at("pairings").at(0),
      {"id", "scion", "rootstock", "want", "graft_on", "rootstock_sowings", "scion_sowings",
       "offset_days", "grafts", "finished", "probability", "standard_error", "limited_by", "cost"});
  has(json.at("pairings").at(0).at("finished"), {"p10", "mean", "p90"});
  has(json.at("pairings").at(0).at("scion_sowings").at(0), {"lot", "sow_on", "seeds", "cells"});
  has(json.at("own_root").at(0),
      {"variety", "want", "lot", "sow_on", "seeds", "cells", "probability"});
  has(json.at("sowings").at(0), {"lot", "sow_on", "seeds", "cells", "for"});
  has(json.at("seed").at(0), {"lot", "on_hand", "needed", "short"});
  has(json.at("buy").at(0), {"variety", "seeds", "plants_gained", "price"});
  has(json.at("warnings").at(0), {"code", "about", "text"});
  EXPECT_GT(json.at("pairings").at(0).at("standard_error"), 0);
  EXPECT_EQ(json.at("seasons"), 512);
  EXPECT_EQ(json.at("pairings").at(0).at("limited_by"), "seed");
}

TEST(SeasonPlanner, the_same_request_gives_the_same_plan_with_any_number_of_threads) {
  PlanRequest request = season_of_two();
  request.seasons = 256;
  for (const int want : {1, 3, 2}) {
    request.pairings.push_back(pairing("P" + std::to_string(10 + want), "Tin Whistle", want));
  }
  const nlohmann::json one = plan_season(request, {.threads = 1});
  EXPECT_EQ(nlohmann::json(plan_season(request, {.threads = 1})), one);
  EXPECT_EQ(nlohmann::json(plan_season(request, {.threads = 3})), one);
}

// The luck of a lot hangs on its label alone.
TEST(SeasonPlanner, a_pairing_more_changes_no_other_plan_when_planned_apart) {
  PlanRequest request = season_of_two();
  request.separate = true;
  request.seasons = 256;
  const auto alone = plan_season(request).pairings.at(0);
  request.pairings.insert(request.pairings.begin(), pairing("P2", "Tin Whistle", 2));
  const auto second = plan_season(request).pairings.at(1);
  EXPECT_EQ(second.probability, alone.probability);
  EXPECT_EQ(second.cost, alone.cost);
}

// Sown on the day that the plan would have chosen, the seed counts and nothing more is needed.
TEST(SeasonPlanner, what_is_sown_counts_and_only_the_rest_is_planned) {
  PlanRequest request = season_of_two();
  const PlannedPairing before = plan_season(request).pairings.at(0);
  const ProposedSowing sowing = before.rootstock_sowings.at(0);
  request.sown = {
      {"S1", "IF-26", "Ironfoot", sowing.sow_on, sowing.seeds, {}, Side::rootstock, {"P1"}}};
  request.made_on = sowing.sow_on + std::chrono::days(1);
  const PlannedPairing after = plan_season(request).pairings.at(0);
  ASSERT_FALSE(after.rootstock_sowings.empty());
  EXPECT_EQ(after.rootstock_sowings.at(0).sowing, "S1");
  EXPECT_EQ(after.rootstock_sowings.at(0).seeds, sowing.seeds);
  EXPECT_NEAR(after.scion_sowings.at(0).seeds, before.scion_sowings.at(0).seeds, 12);
  EXPECT_GE(after.probability, 0.9 - 1e-9);
  EXPECT_LT(after.cost, before.cost - 0.4 * sowing.seeds);
  // Half of it failed: more is sown, of the day the plan is made at the earliest.
  request.sown[0].standing = sowing.seeds / 2;
  const PlannedPairing rest = plan_season(request).pairings.at(0);
  ASSERT_EQ(rest.rootstock_sowings.size(), 2u);
  EXPECT_EQ(rest.rootstock_sowings.at(0).seeds, sowing.seeds / 2);
  EXPECT_GE(rest.rootstock_sowings.at(1).sow_on, request.made_on);
}

TEST(SeasonPlanner, one_plant_five_hundred_and_sixty_pairings_are_planned) {
  PlanRequest request = season_of_two();
  request.seasons = 128;
  for (Lot& lot : request.lots) lot.seeds = 100'000;
  request.pairings[0].want = 1;
  const auto one = plan_season(request).pairings.at(0);
  EXPECT_GE(one.probability, 0.9 - 1e-9);
  EXPECT_LE(one.grafts, 3);
  request.pairings[0].want = 500;
  const auto many = plan_season(request).pairings.at(0);
  EXPECT_GE(many.probability, 0.9 - 1e-9);
  EXPECT_GT(many.grafts, 625);
  request.pairings.clear();
  for (int i = 0; i < 60; ++i) {
    request.pairings.push_back(pairing("P" + std::to_string(i), "Quarry Pink", 1 + i % 3));
  }
  const SeasonPlan plan = plan_season(request);
  ASSERT_EQ(plan.pairings.size(), 60u);
  for (const auto& p : plan.pairings) EXPECT_GE(p.probability, 0.9 - 1e-9);
}

TEST(SeasonPlanner, a_lot_without_seed_leaves_nothing_to_graft_and_says_what_to_buy) {
  PlanRequest request = season_of_two();
  request.lots[2].seeds = 0;
  const SeasonPlan plan = plan_season(request);
  EXPECT_EQ(plan.pairings.at(0).probability, 0);
  EXPECT_EQ(plan.pairings.at(0).grafts, 0);
  EXPECT_EQ(plan.pairings.at(0).limited_by, LimitedBy::seed);
  ASSERT_EQ(plan.buy.size(), 1u);
  EXPECT_GT(plan.buy[0].plants_gained, 4);
}

}  // namespace
}  // namespace takehold::client
