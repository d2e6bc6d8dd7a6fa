#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "daemon/api/exposure_message.hpp"
#include "daemon/api/status_message.hpp"
#include "daemon/healing/regime_json.hpp"
#include "daemon/healing/regime_toml.hpp"

namespace takehold::daemon {
namespace {

using nlohmann::json;
using sensors::Celsius;
using sensors::RelativeHumidity;
using testing::ElementsAre;

const sensors::Instant kNow = sensors::parse_instant("2027-04-16T12:00:00Z").value();

// RFC 9457, figure 2 of section 3: members of a problem that is not ours are read all the same.
TEST(ProblemDocument, the_published_example_is_understood) {
  const auto problem = api_problem_from(403, R"({
    "type": "https://example.com/probs/out-of-credit",
    "title": "You do not have enough credit.",
    "detail": "Your current balance is 30, but that costs 50.",
    "instance": "/account/12345/msgs/abc",
    "balance": 30, "accounts": ["/account/12345", "/account/67890"]})");
  EXPECT_EQ(problem.status, 403);
  EXPECT_EQ(problem.problem.title, "You do not have enough credit.");
  EXPECT_EQ(problem.problem.detail, "Your current balance is 30, but that costs 50.");
}

TEST(ProblemDocument, ours_come_back_as_they_were_and_others_by_their_status) {
  const ApiProblem sent{409,
                        {"other-book", "this label belongs to another book", "", "G1", "undo"}};
  const auto got = api_problem_from(409, json(sent).dump());
  EXPECT_EQ(got.problem.code, "other-book");
  EXPECT_EQ(got.problem.title, sent.problem.title);
  EXPECT_EQ(got.problem.where, "G1");
  EXPECT_EQ(json(sent)["status"], 409);
  EXPECT_TRUE(json(sent)["detail"].is_null());
  EXPECT_EQ(api_problem_from(502, "<html>").problem.title, "HTTP status 502");
  EXPECT_EQ(api_problem_from(404, "[]").problem.code, "http-404");
}

json put_body() {
  return {{"book", "3f2504e0-4f89-41d3-9a0c-0305e82c3301"},
          {"revision", 2},
          {"pairing", "Quarry Pink/Ironfoot"},
          {"count", 12},
          {"entered_at", "2027-04-12T12:00:00Z"},
          {"left_at", nullptr},
          {"regime", json(find_regime("steady", {}).value())},
          {"events", {{{"kind", "hold"}, {"at", "2027-04-13T12:00:00Z"}, {"hours", 12}}}}};
}

TEST(OccupantBody, what_is_put_is_read_and_written_back) {
  const auto body = occupant_body_from(put_body().dump()).value();
  EXPECT_EQ(body.revision, 2);
  EXPECT_EQ(body.count, 12);
  EXPECT_FALSE(body.left_at);
  EXPECT_EQ(body.events.at(0).longer, std::chrono::hours(12));
  EXPECT_EQ(occupant_body_from(json(body).dump()).value(), body);
}

TEST(OccupantBody, only_what_is_needed_is_required) {
  const json least = {{"book", "3F2504E0-4F89-41D3-9A0C-0305E82C3301"},
                      {"revision", 1},
                      {"entered_at", "2027-04-12T12:00:00Z"},
                      {"regime", {{"name", "x"}, {"stages", {{{"name", "a"}, {"hours", 1}}}}}},
                      {"from_the_future", true}};
  EXPECT_TRUE(occupant_body_from(least.dump()).has_value());
}

TEST(OccupantBody, mistakes_are_422_with_a_pointer) {
  struct Case {
    const char* pointer;
    json value;
  };
  for (const auto& [pointer, value] :
       {Case{"/book", "nobody"}, Case{"/book", nullptr}, Case{"/revision", 0},
        Case{"/revision", "two"}, Case{"/revision", 1.5}, Case{"/count", -1},
        Case{"/entered_at", "2027-04-12"}, Case{"/left_at", "2027-04-11T00:00:00Z"},
        Case{"/regime", nullptr}, Case{"/regime", "steady"}, Case{"/events/0/kind", "skip"},
        Case{"/events/0/hours", -3}, Case{"/regime/stages/0/humidity_pct", {90, 120}},
        Case{"/regime/stages/0/humidity_pct", {99, 90}}, Case{"/events", 5}}) {
    json body = put_body();
    body[json::json_pointer(pointer)] = value;
    const auto result = occupant_body_from(body.dump());
    ASSERT_TRUE(result.has_error()) << pointer << value;
    EXPECT_EQ(result.error().status, 422);
    EXPECT_EQ(result.error().problem.where, pointer);
  }
  EXPECT_EQ(occupant_body_from("{").error().status, 400);
  EXPECT_EQ(occupant_body_from("[]").error().status, 422);
  EXPECT_EQ(occupant_body_from(std::string(1, '\xff')).error().status, 400);
}

TEST(OccupantMessage, the_stage_follows_from_what_was_put) {
  const auto body = occupant_body_from(put_body().dump()).value();
  const auto message = occupant_message("G1", body, kNow);
  // Closed for 72 + 12 h, so venting since 2027-04-16T00:00Z.
  EXPECT_EQ(message.stage, "venting");
  EXPECT_EQ(sensors::to_string(message.since), "2027-04-16T00:00:00Z");
  EXPECT_EQ(message.where, "chamber");
  EXPECT_FALSE(message.kept);
  const auto again = occupant_message_from(json(message)).value();
  EXPECT_EQ(json(again), json(message));
}

TEST(OccupantMessage, after_it_left_its_stage_is_the_one_it_left_in) {
  auto body = occupant_body_from(put_body().dump()).value();
  body.left_at = sensors::parse_instant("2027-04-13T00:00:00Z").value();
  EXPECT_EQ(occupant_message("G1", body, kNow).stage, "closed");
}

TEST(PushedReadings, one_or_a_list_is_taken) {
  const auto one = pushed_readings_from(R"({"probe":"left","temperature_degc":-1.5})").value();
  ASSERT_EQ(one.size(), 1u);
  EXPECT_EQ(one[0].temperature->degc(), -1.5);
  EXPECT_FALSE(one[0].humidity);
  EXPECT_FALSE(one[0].at);
  const auto two =
      pushed_readings_from(
          R"([{"probe":"a","humidity_pct":90,"at":"2027-04-12T00:00:00Z"},{"probe":"b","humidity_pct":91}])")
          .value();
  EXPECT_EQ(two[1].probe, "b");
  EXPECT_EQ(sensors::to_string(*two[0].at), "2027-04-12T00:00:00Z");
}

TEST(PushedReadings, mistakes_say_which_of_the_list_they_are_in) {
  EXPECT_EQ(pushed_readings_from("T=20").error().status, 400);
  EXPECT_EQ(pushed_readings_from(R"([{"probe":"a","humidity_pct":90},{"probe":"b"}])")
                .error()
                .problem.where,
            "/1/temperature_degc");
  EXPECT_EQ(pushed_readings_from(R"({"probe":"a","humidity_pct":"90"})").error().status, 422);
  EXPECT_EQ(pushed_readings_from(R"({"humidity_pct":90})").error().problem.where, "/probe");
  EXPECT_EQ(pushed_readings_from(json(std::vector<int>(1001)).dump()).error().status, 413);
}

TEST(Status, all_known_keys_are_there_even_when_nothing_is_known) {
  StatusMessage message;
  message.program = "chamberd 0.1.0";
  message.at = kNow;
  message.started_at = kNow;
  const json value = json(message);
  for (const char* key :
       {"program", "interface", "schema", "at", "air", "asks", "probes", "occupants", "warnings"}) {
    EXPECT_TRUE(value.contains(key)) << key;
  }
  EXPECT_TRUE(value["air"]["temperature_degc"].is_null());
  EXPECT_TRUE(value["asks"]["humidity_pct"].is_null());
  EXPECT_EQ(json(status_message_from(value).value()), value);
}

TEST(Status, a_full_one_passes_both_ways) {
  StatusMessage message;
  message.program = "chamberd 0.1.0";
  message.at = message.started_at = kNow;
  message.air.temperature = Celsius::degc(24.25);
  message.air.vapour_deficit = sensors::Pressure::pa(124);
  message.probes = {{"left", "chamber", "serial", std::nullopt},
                    {"right", "chamber", "http",
                     ReadingMessage{"right", kNow, Celsius::degc(0), std::nullopt,
                                    sensors::Quality::suspect, "disagrees"}}};
  message.occupants = {occupant_message("G1", occupant_body_from(put_body().dump()).value(), kNow)};
  message.asks = message.occupants[0].asks;
  WarningMessage warning;
  warning.id = "W3";
  warning.kind = "outside";
  warning.cause = "drying";
  warning.about = "humidity";
  warning.raised_at = kNow;
  warning.text = "too dry";
  message.warnings = {warning};
  const json value = json(message);
  EXPECT_EQ(value["probes"][1]["last"]["temperature_degc"], 0.0);
  EXPECT_TRUE(value["warnings"][0]["cleared_at"].is_null());
  const auto again = status_message_from(json::parse(value.dump())).value();
  EXPECT_EQ(json(again), value);
  json broken = value;
  broken["probes"][1]["last"]["quality"] = "splendid";
  EXPECT_TRUE(status_message_from(broken).has_error());
}

TEST(Readings, a_gap_is_null_and_no_zero) {
  ReadingsMessage message{kNow, kNow + std::chrono::hours(1), std::chrono::seconds(90), {}};
  message.probes = {
      {"left",
       {{kNow, Spread<Celsius>{Celsius::degc(24), Celsius::degc(23), Celsius::degc(25)}, {}},
        {kNow + std::chrono::seconds(90), {}, {}}}}};
  message.probes.push_back({"the \"other\"", {}});
  const json value = json::parse(readings_text(message));
  EXPECT_EQ(value["probes"][0]["buckets"][0]["temperature_degc"]["max"], 25.0);
  EXPECT_EQ(value["probes"][1]["probe"], "the \"other\"");
  EXPECT_TRUE(value["probes"][0]["buckets"][1]["temperature_degc"].is_null());
  EXPECT_EQ(value["step_s"], 90.0);
  EXPECT_EQ(readings_text(readings_message_from(value).value()), readings_text(message));
}

TEST(Event, has_the_keys_of_a_replay_line) {
  EventMessage message;
  message.at = kNow;
  message.event = "stage";
  message.about = "G1";
  const json value = json(message);
  std::vector<std::string> keys;
  for (const auto& [key, ignored] : value.items()) keys.push_back(key);
  EXPECT_THAT(keys, ElementsAre("about", "at", "breach_at", "cause", "event", "follows", "id",
                                "kind", "probe", "text"));
  EXPECT_EQ(json(event_message_from(value).value()), value);
}

TEST(Shelving, always_has_an_end_that_is_to_come) {
  EXPECT_TRUE(shelve_until_from(R"({"until":"2027-04-16T14:00:00Z"})", kNow).has_value());
  EXPECT_EQ(shelve_until_from("{}", kNow).error().status, 422);
  EXPECT_EQ(shelve_until_from(R"({"until":"2027-04-16T12:00:00Z"})", kNow).error().status, 422);
  EXPECT_EQ(shelve_until_from("", kNow).error().status, 400);
}

TEST(ExposureMessage, what_is_told_is_read_back_and_a_band_not_asked_for_is_null) {
  ExposureMessage sent;
  sent.label = "G7";
  sent.book = "3f2504e0-4f89-41d3-9a0c-0305e82c3301";
  sent.revision = 3;
  sent.regime = "steady";
  sent.entered_at = kNow;
  sent.until = kNow + std::chrono::hours(10);
  BandExposure band;
  band.observed = Hours(8);
  band.below = {Hours(1.5), 0.75, Hours(1)};
  sent.exposure.observed = 0.8;
  sent.exposure.stages.push_back({"closed", kNow, sent.until, 0.8, band, {}, {}});
  const json text = sent;
  EXPECT_EQ(text["stages"][0]["temperature"]["below_degc_h"], 0.75);
  EXPECT_EQ(text["stages"][0]["hours"], 10);
  EXPECT_TRUE(text["stages"][0]["humidity"].is_null());
  const auto got = exposure_message_from(text).value();
  EXPECT_EQ(got.revision, 3);
  EXPECT_EQ(json(got), text);
  EXPECT_FALSE(exposure_message_from(json{{"label", "G7"}}));
}

}  // namespace
}  // namespace takehold::daemon
