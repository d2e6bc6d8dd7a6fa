#include "daemon/watch/letter.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace takehold::daemon {
namespace {

using testing::HasSubstr;
using testing::Not;

Letter letter() {
  return {"chamber@example.org", {"grower@example.org", "friend@example.org"},
          "humidity 88.2 %",     "humidity 88.2 %, should be 95-100 %.",
          "W12.warning",         *sensors::parse_instant("2027-04-12T06:07:08Z")};
}

// What a mail program makes of it is tried with Python's own reader in tests/system/notify_test.py.
TEST(Letter, head_and_body_are_parted_by_an_empty_line) {
  EXPECT_EQ(to_message(letter()),
            "From: chamber@example.org\nTo: grower@example.org,\n friend@example.org\n"
            "Subject: humidity 88.2 %\nDate: Mon, 12 Apr 2027 06:07:08 +0000\n"
            "Message-ID: <W12.warning.20270412T060708.chamberd.chamber@example.org>\n"
            "MIME-Version: 1.0\nContent-Type: text/plain; charset=utf-8\n"
            "Content-Transfer-Encoding: 8bit\nAuto-Submitted: auto-generated\n\n"
            "humidity 88.2 %, should be 95-100 %.\n");
}

TEST(Letter, a_subject_cannot_add_lines_to_the_head) {
  auto evil = letter();
  evil.subject = "a\r\nBcc: all@example.org";
  EXPECT_THAT(to_message(evil), Not(HasSubstr("\nBcc")));
}

// RFC 2047: an encoded word is at most 75 characters. "\u00b0C" in base64 is wrBD.
TEST(Letter, what_is_not_ascii_goes_as_encoded_words) {
  auto warm = letter();
  warm.subject = "\u00b0C";
  EXPECT_THAT(to_message(warm), HasSubstr("Subject: =?UTF-8?B?wrBD?=\n"));
  warm.subject.clear();
  for (int i = 0; i < 60; ++i) warm.subject += "\u00b0";
  const auto text = to_message(warm);
  EXPECT_THAT(text, HasSubstr("?=\n =?UTF-8?B?"));
  EXPECT_THAT(text, HasSubstr("wrA=?=\n")) << "ends with a whole character";
}

TEST(Letter, long_lines_are_wrapped) {
  auto lengthy = letter();
  lengthy.text.clear();
  for (int i = 0; i < 100; ++i) lengthy.text += "word ";
  const auto message = to_message(lengthy);
  std::size_t from = message.find("\n\n"), to = 0;
  while ((to = message.find('\n', from + 1)) != std::string::npos) {
    EXPECT_LE(to - from, 78u);
    from = to;
  }
}

}  // namespace
}  // namespace takehold::daemon
