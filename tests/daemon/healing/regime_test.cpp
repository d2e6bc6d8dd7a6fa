#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>
#include <nlohmann/json.hpp>

#include "daemon/healing/regime_json.hpp"
#include "daemon/healing/regime_toml.hpp"
#include "daemon/healing/stage_at.hpp"
#include "tests/daemon/temporary_folder.hpp"

namespace takehold::daemon {
namespace {

using namespace std::chrono_literals;
using nlohmann::json;
using testing::Contains;
using testing::HasSubstr;

Regime built_in(const char* name) {
  return find_regime(name, {}).value();
}

/// The example of docs/formats/regime.md.
const std::string kExample = R"(name = "steady"
source = "..."
methods = ["splice", "cleft"]
[[stage]]
name = "closed"
where = "chamber"
hours = 72
temperature_degc = [22, 29]
humidity_pct = [95, 100]
light_umol = [0, 50]
tasks = ["look at 8:00 and 18:00", "refill the water"]
)";

std::string replaced(std::string text, const std::string& what, const std::string& by) {
  return text.replace(text.find(what), what.size(), by);
}

TEST(Regime, the_documented_example_is_read_as_written) {
  const Regime regime = read_regime(kExample, "x.toml").value();
  ASSERT_EQ(regime.stages.size(), 1u);
  const Stage& stage = regime.stages[0];
  EXPECT_EQ(stage.length, 72h);
  EXPECT_EQ(stage.temperature->from.low.degc(), 22.0);
  EXPECT_EQ(stage.humidity->to.high.pct(), 100.0);
  EXPECT_EQ(stage.light->high.umol(), 50.0);
  EXPECT_EQ(stage.tasks.size(), 2u);
}

TEST(Regime, a_ramp_is_written_in_either_form) {
  const auto inside = replaced(kExample, "humidity_pct = [95, 100]",
                               "humidity_pct = { from = [90, 100], to = [65, 80] }");
  const auto beside =
      replaced(kExample, "humidity_pct = [95, 100]", "from = [90, 100]\nto = [65, 80]");
  const Regime regime = read_regime(inside, "x.toml").value();
  EXPECT_EQ(regime.stages[0].humidity->to.low.pct(), 65.0);
  EXPECT_EQ(read_regime(beside, "x.toml").value(), regime);
}

TEST(Regime, mistakes_are_refused_with_file_and_line) {
  struct Case {
    const char *what, *by, *code, *where;
  };
  for (const auto& [what, by, code, where] : {
           Case{"hours = 72", "hours = 0", "out-of-range", "x.toml:7"},
           Case{"hours = 72", "hours = 1e300", "out-of-range", "x.toml:7"},
           Case{"hours = 72", "hurs = 72", "missing-key", "x.toml:4"},
           Case{"[22, 29]", "[29, 22]", "bad-band", "x.toml:8"},
           Case{"[22, 29]", "[22]", "bad-band", "x.toml:8"},
           Case{"[22, 29]", "22", "wrong-type", "x.toml:8"},
           Case{"[95, 100]", "[95, 101]", "out-of-range", "x.toml:9"},
           Case{"[95, 100]", "{ from = [95, 100] }", "bad-band", "x.toml:9"},
           Case{"light_umol", "vpd_kpa = [0.1, 0.2]\nlight_umol", "two-humidities", "x.toml:10"},
           Case{"light_umol", "from = [80, 90]\nto = [70, 80]\nlight_umol", "two-humidities",
                "x.toml:10"},
           Case{"\"chamber\"", "\"garden\"", "unknown-value", "x.toml:6"},
           Case{"name = \"steady\"", "name = \"\"", "missing-name", "x.toml:1"},
       }) {
    const auto result = read_regime(replaced(kExample, what, by), "x.toml");
    ASSERT_TRUE(result.has_error()) << by;
    EXPECT_EQ(result.error().code, code) << by;
    EXPECT_EQ(result.error().where, where) << by;
  }
  EXPECT_EQ(read_regime("name = \"empty\"\n", "x.toml").error().code, "no-stage");
  EXPECT_EQ(
      read_regime(kExample + kExample.substr(kExample.find("[[stage]]")), "x.toml").error().code,
      "duplicate-name");
}

// What is published: the chamber above 95 % for three days, at 97-98 % best (Korean plug-seedling
// study of vapour deficit and graft healing); healed at day 14 (WSU Extension FS051E); 22-29 degC.
TEST(Regime, steady_keeps_to_what_is_published) {
  const Regime steady = built_in("steady");
  EXPECT_EQ(whole_length(steady), std::chrono::days(14));
  const Stage& closed = steady.stages.front();
  EXPECT_EQ(closed.name, "closed");
  EXPECT_EQ(closed.length, 72h);
  EXPECT_EQ(closed.humidity->from.low.pct(), 95.0);
  EXPECT_TRUE(closed.humidity->from.holds(sensors::RelativeHumidity::pct(97.5)));
  EXPECT_TRUE(closed.temperature->from.holds(sensors::Celsius::degc(24.9)));
  EXPECT_NE(steady.source.find("WSU Extension FS051E"), std::string::npos);
  std::chrono::minutes in_chamber{0};
  for (const Stage& stage : steady.stages) {
    if (stage.where == StagePlace::chamber) in_chamber += stage.length;
  }
  EXPECT_EQ(in_chamber, std::chrono::days(7));
}

TEST(Regime, dark_start_is_dark_and_says_what_that_costs) {
  const Regime dark = built_in("dark-start");
  EXPECT_LE(dark.stages.front().light->high.umol(), 5.0);
  EXPECT_GE(dark.stages.front().length, std::chrono::days(2));
  EXPECT_LE(dark.stages.front().length, std::chrono::days(4));
  EXPECT_THAT(dark.source,
              HasSubstr("84 %"));  // Lang, Nair & Litvin 2020, HortTechnology 30(6):677
}

TEST(Regime, all_built_in_ones_pass_through_files_and_json_unchanged) {
  const auto names = built_in_regime_names();
  EXPECT_THAT(names, Contains("steady"));
  EXPECT_THAT(names, Contains("dark-start"));
  for (const auto& name : names) {
    const Regime regime = built_in(name.c_str());
    EXPECT_EQ(regime.name, name);
    EXPECT_EQ(read_regime(regime_toml(regime), "again").value(), regime);
    EXPECT_EQ(parse_regime_json(json::parse(json(regime).dump())).value(), regime);
  }
}

TEST(Regime, any_text_passes_through_a_file) {
  Regime regime = built_in("steady");
  regime.source = "quote \" backslash \\ line\nend \t tab \x01 and \xc3\xa9";
  EXPECT_EQ(read_regime(regime_toml(regime), "again").value(), regime);
}

TEST(Regime, a_file_of_the_same_name_wins) {
  TemporaryFolder folder;
  std::ofstream(folder / "steady.toml") << replaced(kExample, "hours = 72", "hours = 36.5");
  EXPECT_EQ(find_regime("steady", {folder.path()}).value().stages[0].length, 36h + 30min);
  EXPECT_EQ(find_regime("steady.toml", {folder.path()}).value().stages[0].length, 36h + 30min);
  EXPECT_EQ(find_regime((folder / "steady.toml").string(), {}).value().stages.size(), 1u);
}

TEST(Regime, an_unknown_name_lists_the_built_in_ones) {
  for (const char* name : {"stedy", "steady.toml", "../steady", "/nowhere/steady.toml", ""}) {
    const auto result = find_regime(name, {});
    ASSERT_TRUE(result.has_error()) << name;
  }
  EXPECT_THAT(find_regime("stedy", {}).error().hint, HasSubstr("steady, dark-start"));
}

TEST(RegimeJson, unknown_fields_are_ignored_and_mistakes_have_a_pointer) {
  json value = json(built_in("steady"));
  value["colour"] = "green";
  EXPECT_TRUE(parse_regime_json(value).has_value());
  value["stages"][1]["hours"] = "four";
  EXPECT_EQ(parse_regime_json(value).error().where, "/stages/1/hours");
  value["stages"][1]["hours"] = -4;
  EXPECT_EQ(parse_regime_json(value).error().code, "out-of-range");
  value["stages"] = json::array();
  EXPECT_EQ(parse_regime_json(value).error().code, "no-stage");
  EXPECT_EQ(parse_regime_json(json::array()).error().code, "wrong-type");
}

TEST(RegimeJson, events_pass_both_ways) {
  const auto at = sensors::parse_instant("2027-04-13T08:00:00Z").value();
  for (const ManualEvent& event :
       {ManualEvent{EventKind::advance, at, 0min}, ManualEvent{EventKind::hold, at, 90min},
        ManualEvent{EventKind::back, at, 0min}}) {
    const json value = json(event);
    std::vector<sensors::Problem> mistakes;
    EXPECT_EQ(manual_event_from(JsonObject(value, mistakes)), event);
    EXPECT_TRUE(mistakes.empty());
  }
  std::vector<sensors::Problem> mistakes;
  const json bad = {{"kind", "skip"}, {"at", "2027-04-13T08:00:00"}};
  manual_event_from(JsonObject(bad, mistakes));
  ASSERT_EQ(mistakes.size(), 2u);
  EXPECT_EQ(mistakes[0].where, "/at");
  EXPECT_EQ(mistakes[1].where, "/kind");
}

}  // namespace
}  // namespace takehold::daemon
