#include "daemon/http/event_parser.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace takehold::daemon {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

std::vector<ServerEvent> parsed(std::string_view text) {
  return EventParser().feed(text);
}

// The four examples of the HTML Living Standard, 9.2.6 "Interpreting an event stream" (from
// memory).
TEST(EventParser, the_published_examples_are_understood) {
  EXPECT_THAT(parsed("data: YHOO\ndata: +2\ndata: 10\n\n"),
              ElementsAre(ServerEvent{"message", "", "YHOO\n+2\n10"}));
  EXPECT_THAT(parsed(": test stream\n\ndata: first event\nid: 1\n\ndata:second event\nid\n\n"
                     "data:  third event\n\n"),
              ElementsAre(ServerEvent{"message", "1", "first event"},
                          ServerEvent{"message", "", "second event"},
                          ServerEvent{"message", "", " third event"}));
  EXPECT_THAT(parsed("data\n\ndata\ndata\n\ndata:"),
              ElementsAre(ServerEvent{"message", "", ""}, ServerEvent{"message", "", "\n"}));
  EXPECT_THAT(parsed("data:test\n\ndata: test\n\n"),
              ElementsAre(ServerEvent{"message", "", "test"}, ServerEvent{"message", "", "test"}));
}

TEST(EventParser, names_end_with_their_event_and_ids_stay) {
  EXPECT_THAT(parsed("event: reading\nid: 7\ndata: a\n\ndata: b\n\n"),
              ElementsAre(ServerEvent{"reading", "7", "a"}, ServerEvent{"message", "7", "b"}));
  EXPECT_THAT(parsed("event: reading\n\ndata: b\n\n"),
              ElementsAre(ServerEvent{"message", "", "b"}));
}

TEST(EventParser, however_the_bytes_are_cut_the_events_are_the_same) {
  const std::string text =
      "\xef\xbb\xbf"
      "event: reading\r\nid: 7\r\ndata: a\r\n\r\n: alive\r\rdata: b\r\rdata: c\n\n";
  const auto whole = parsed(text);
  ASSERT_EQ(whole.size(), 3u);
  EXPECT_EQ(whole[0], (ServerEvent{"reading", "7", "a"}));
  for (std::size_t cut = 1; cut < text.size(); ++cut) {
    EventParser parser;
    auto events = parser.feed(text.substr(0, cut));
    for (auto& event : parser.feed(text.substr(cut))) events.push_back(event);
    EXPECT_EQ(events, whole) << cut;
  }
}

TEST(EventParser, an_id_with_a_nul_is_ignored_and_a_known_one_is_kept) {
  EventParser parser("5");
  EXPECT_THAT(parser.feed(std::string_view("id: 6\0\ndata: x\n\n", 16)),
              ElementsAre(ServerEvent{"message", "5", "x"}));
}

TEST(EventParser, an_endless_event_is_given_up) {
  EventParser parser;
  EXPECT_THAT(parser.feed("data: " + std::string(EventParser::kLargestEvent + 1, 'x')), IsEmpty());
  EXPECT_TRUE(parser.overflowed());
  EventParser lines;
  for (std::size_t i = 0; i <= EventParser::kLargestEvent / 1000 && !lines.overflowed(); ++i)
    lines.feed("data: " + std::string(1000, 'x') + "\n");
  EXPECT_TRUE(lines.overflowed());
}

}  // namespace
}  // namespace takehold::daemon
