// JSON by pointers: the examples of RFC 6901 section 5, and what devices send.
#include "sensors/codec/json_map.hpp"

#include <gtest/gtest.h>

namespace takehold::sensors {
namespace {

// RFC 6901, section 5, the document with its numbers.
const char* const kRfcDocument = R"({"foo": ["bar", "baz"], "": 0, "a/b": 1, "c%d": 2, "e^f": 3,
  "g|h": 4, "i\\j": 5, "k\"l": 6, " ": 7, "m~n": 8})";

TEST(JsonMap, pointers_of_the_rfc_find_their_places) {
  const std::pair<const char*, double> places[] = {{"/", 0},     {"/a~1b", 1}, {"/c%d", 2},
                                                   {"/e^f", 3},  {"/g|h", 4},  {"/i\\j", 5},
                                                   {"/k\"l", 6}, {"/ ", 7},    {"/m~0n", 8}};
  for (const auto& [pointer, value] : places) {
    const auto decoded = decode_json({pointer, std::nullopt}, kRfcDocument);
    ASSERT_TRUE(decoded.has_value()) << pointer;
    EXPECT_EQ(decoded->temperature->degc(), value) << pointer;
  }
}

TEST(JsonMap, arrays_texts_and_the_whole_document) {
  const auto deep = decode_json({"/s/1/t", "/s/1/h"}, R"({"s":[{},{"t":"23.4","h":95}]})").value();
  EXPECT_NEAR(deep.temperature->degc(), 23.4, 1e-9);
  EXPECT_NEAR(deep.humidity->pct(), 95.0, 1e-9);
  EXPECT_NEAR(decode_json({"", std::nullopt}, "21.5").value().temperature->degc(), 21.5, 1e-9);
}

TEST(JsonMap, null_and_absent_are_missing) {
  const auto decoded = decode_json({}, R"({"temperature_degc": null, "humidity_pct": 95})").value();
  EXPECT_FALSE(decoded.temperature.has_value());
  EXPECT_TRUE(decoded.humidity.has_value());
  EXPECT_EQ(decode_json({}, R"({"t": 1})").error().code, "no-values");
  EXPECT_EQ(decode_json({"/a/x", "/a/-"}, R"({"a": [1, 2]})").error().code, "no-values");
  EXPECT_EQ(decode_json({"/a/01", "/b/c"}, R"({"a": [1, 2], "b": 3})").error().code, "no-values");
}

TEST(JsonMap, what_is_no_number_is_refused) {
  EXPECT_EQ(decode_json({}, R"({"temperature_degc": true})").error().code, "bad-number");
  EXPECT_EQ(decode_json({}, R"({"temperature_degc": "warm"})").error().code, "bad-number");
  EXPECT_EQ(decode_json({}, R"({"temperature_degc": [23]})").error().code, "bad-number");
  EXPECT_EQ(decode_json({}, R"({"temperature_degc": 1e999})").error().code, "bad-json");
  EXPECT_EQ(decode_json({}, "<html>").error().code, "bad-json");
  EXPECT_EQ(decode_json({}, std::string(kMaxJsonBytes + 1, ' ')).error().code, "too-long");
}

TEST(JsonMap, deep_nesting_does_no_harm) {
  EXPECT_EQ(decode_json({}, std::string(kMaxJsonBytes, '[')).error().code, "bad-json");
}

TEST(JsonMap, wrong_pointers_are_refused_when_they_are_set) {
  EXPECT_TRUE(check(JsonMap{}).has_value());
  EXPECT_EQ(check(JsonMap{"t", std::nullopt}).error().code, "bad-pointer");
  EXPECT_EQ(check(JsonMap{"/a~2", std::nullopt}).error().code, "bad-pointer");
  EXPECT_EQ(check(JsonMap{std::nullopt, std::nullopt}).error().code, "no-pointers");
}

}  // namespace
}  // namespace takehold::sensors
