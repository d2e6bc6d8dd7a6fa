#include "daemon/api/route.hpp"

#include <gtest/gtest.h>

namespace takehold::daemon {
namespace {

const sensors::Instant kNow = sensors::parse_instant("2027-04-12T12:00:00Z").value();

int refusal(std::string_view method, std::string_view target) {
  const auto route = route_of(method, target);
  return route ? 0 : route.error().status;
}

TEST(Route, every_address_of_the_interface_is_found) {
  EXPECT_EQ(route_of("GET", "/").value().name, RouteName::page);
  EXPECT_EQ(route_of("GET", "/?token=x").value().query.at("token"), "x");
  EXPECT_EQ(route_of("GET", "/v1/status").value().name, RouteName::status);
  EXPECT_EQ(route_of("GET", "/v1/readings?points=3").value().name, RouteName::readings);
  EXPECT_EQ(route_of("POST", "/v1/readings").value().name, RouteName::push_readings);
  EXPECT_EQ(route_of("GET", "/v1/live").value().name, RouteName::live);
  EXPECT_EQ(route_of("GET", "/v1/occupants").value().name, RouteName::occupants);
  EXPECT_EQ(route_of("PUT", "/v1/occupants/G1").value().name, RouteName::put_occupant);
  EXPECT_EQ(route_of("DELETE", "/v1/occupants/G1").value().about, "G1");
  EXPECT_EQ(route_of("GET", "/v1/warnings").value().name, RouteName::warnings);
  EXPECT_EQ(route_of("POST", "/v1/warnings/W3/acknowledge").value().about, "W3");
  EXPECT_EQ(route_of("POST", "/v1/warnings/W3/shelve").value().name, RouteName::shelve_warning);
  EXPECT_EQ(route_of("GET", "/v1/exposure/G1").value().name, RouteName::exposure);
  EXPECT_EQ(route_of("HEAD", "/v1/status").value().name, RouteName::status);
}

// RFC 9110, 15.5.5 and 15.5.6.
TEST(Route, an_unknown_path_is_404_and_a_wrong_method_405_with_what_is_allowed) {
  EXPECT_EQ(refusal("GET", "/v1/nothing"), 404);
  EXPECT_EQ(refusal("GET", "/v2/status"), 404);
  EXPECT_EQ(refusal("GET", "/v1/status/"), 404);
  EXPECT_EQ(refusal("GET", "/v1/occupants/G1/more"), 404);
  EXPECT_EQ(refusal("POST", "/v1/status"), 405);
  EXPECT_EQ(refusal("get", "/v1/status"), 405);
  EXPECT_EQ(allowed_methods("/v1/readings?x=1"), "GET, POST");
  EXPECT_EQ(allowed_methods("/v1/occupants/G1"), "PUT, DELETE");
  EXPECT_EQ(allowed_methods("/nothing"), "");
}

TEST(Route, labels_are_decoded_and_checked) {
  EXPECT_EQ(route_of("PUT", "/v1/occupants/%47%31").value().about, "G1");
  for (const char* target : {"/v1/occupants/%2e%2e%2f", "/v1/occupants/a%20b", "/v1/occupants/%00",
                             "/v1/occupants/abcdefghijklmnopqrstuvwxyzabcdefg"}) {
    EXPECT_EQ(refusal("PUT", target), 404) << target;
  }
  EXPECT_TRUE(is_label("QP-24_a.b"));
  EXPECT_FALSE(is_label(""));
}

TEST(Route, what_is_no_target_is_400) {
  for (const char* target :
       {"", "v1/status", "http://x/v1/status", "/v1/st atus", "/v1/%zz", "*"}) {
    EXPECT_EQ(refusal("GET", target), 400) << target;
  }
}

TEST(Route, what_changes_something_is_told_from_what_only_looks) {
  EXPECT_TRUE(route_of("PUT", "/v1/occupants/G1").value().writes());
  EXPECT_TRUE(route_of("POST", "/v1/readings").value().writes());
  EXPECT_TRUE(route_of("POST", "/v1/warnings/W1/shelve").value().writes());
  EXPECT_FALSE(route_of("GET", "/v1/live").value().writes());
}

ApiResult<ReadingsQuery> query(const std::string& text) {
  return readings_query(route_of("GET", "/v1/readings?" + text).value(), kNow);
}

TEST(ReadingsQuery, without_a_span_it_is_the_last_24_hours) {
  const auto asked = readings_query(route_of("GET", "/v1/readings").value(), kNow).value();
  EXPECT_EQ(sensors::to_string(asked.from), "2027-04-11T12:00:00Z");
  EXPECT_EQ(asked.to, kNow);
  EXPECT_FALSE(asked.probe);
}

TEST(ReadingsQuery, what_is_asked_for_is_read) {
  const auto asked =
      query("probe=left%20side&from=2027-04-01T00:00:00Z&to=2027-04-02T02:00:00%2B02:00&points=10")
          .value();
  EXPECT_EQ(asked.probe, "left side");
  EXPECT_EQ(asked.to - asked.from, std::chrono::hours(24));
  EXPECT_EQ(asked.points, 10);
}

TEST(ReadingsQuery, nonsense_is_422) {
  for (const char* text :
       {"points=0", "points=2001", "points=many", "points=", "points=5x", "from=yesterday",
        "to=2027-04-01", "from=2027-04-02T00:00:00Z&to=2027-04-01T00:00:00Z",
        "from=2027-04-02T00:00:00Z&to=2027-04-02T00:00:00Z"}) {
    const auto asked = query(text);
    ASSERT_TRUE(asked.has_error()) << text;
    EXPECT_EQ(asked.error().status, 422) << text;
  }
}

}  // namespace
}  // namespace takehold::daemon
