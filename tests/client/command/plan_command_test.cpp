#include <gmock/gmock.h>

#include <cstdlib>
#include <map>
#include <set>

#include "client/command/ics.hpp"
#include "tests/client/command/book_support.hpp"

namespace takehold::client {
namespace {

using testing::HasSubstr;

class PlanCommand : public BookTest {};

TEST_F(PlanCommand, of_a_sheet_alone_opens_no_book_and_has_every_key) {
  const Said said = say_json({"plan", file("2027.toml")});
  ASSERT_EQ(said.exit_code, kDone) << said.err;
  EXPECT_FALSE(std::filesystem::exists(file("book.db")));
  const auto plan = said.document()["plan"];
  for (const char* key : {"confidence", "ready_on", "seasons", "seed", "pairings", "own_root",
                          "sowings", "buy", "warnings"}) {
    EXPECT_TRUE(plan.contains(key)) << key;
  }
  const auto pairing = plan["pairings"][0];
  for (const char* key : {"id", "scion", "rootstock", "want", "graft_on", "rootstock_sowings",
                          "scion_sowings", "offset_days", "grafts", "finished", "probability",
                          "standard_error", "limited_by", "cost"}) {
    EXPECT_TRUE(pairing.contains(key)) << key;
  }
  // Healing 7 days and hardening to day 14 before the day the plants shall be ready (published).
  EXPECT_EQ(pairing["graft_on"], "2027-05-15");
}

TEST_F(PlanCommand, accepted_becomes_lines_of_today_that_done_records) {
  ASSERT_EQ(say({"plan", file("2027.toml"), "--accept"}).exit_code, kDone);
  const auto first = say_json({"calendar"}).document()["events"][0];
  now_ = first["on"].get<std::string>() + "T08:00:00Z";
  const auto tasks = say_json({"today"}).document()["tasks"];
  ASSERT_FALSE(tasks.empty());
  EXPECT_EQ(tasks[0]["what"], "sow");
  const Said done = say_json({"done", "1"});
  ASSERT_EQ(done.exit_code, kDone) << done.err;
  EXPECT_EQ(done.document()["seeds"], tasks[0]["count"]);
  EXPECT_EQ(say_json({"today"}).document()["tasks"].size(), tasks.size() - 1);
  ASSERT_EQ(say({"undo"}).exit_code, kDone);
  EXPECT_EQ(say_json({"today"}).document()["tasks"], tasks);
}

TEST_F(PlanCommand, the_command_of_a_line_does_what_done_does) {
  ASSERT_EQ(say({"plan", file("2027.toml"), "--accept"}).exit_code, kDone);
  now_ = "2027-05-15T08:00:00Z";
  const auto task = say_json({"today"}).document()["tasks"][0];
  std::istringstream command(task["command"].get<std::string>());
  std::vector<std::string> words;
  for (std::string word; command >> word;) words.push_back(word);
  ASSERT_EQ(words.front(), "takehold");
  words.erase(words.begin());
  EXPECT_EQ(say(words).exit_code, kDone);
  EXPECT_NE(say_json({"today"}).document()["tasks"][0], task);
}

TEST_F(PlanCommand, accepting_again_keeps_the_numbers_of_the_lines) {
  ASSERT_EQ(say({"plan", file("2027.toml"), "--accept"}).exit_code, kDone);
  const auto before = say_json({"calendar"}).out;
  ASSERT_EQ(say({"plan", "--accept"}).exit_code, kDone);
  EXPECT_EQ(say_json({"calendar"}).out, before);
}

TEST_F(PlanCommand, a_line_that_is_not_there_is_refused) {
  load();
  const Said said = say_json({"done", "7"});
  EXPECT_EQ(said.exit_code, kRefused);
  EXPECT_EQ(said.document()["error"]["code"], "no-such-line");
}

// Read by icalendar, an independent implementation of RFC 5545 (Debian's python3-icalendar).
TEST_F(PlanCommand, the_calendar_file_is_read_by_an_independent_reader) {
  ASSERT_EQ(say({"plan", file("2027.toml"), "--accept"}).exit_code, kDone);
  ASSERT_EQ(say({"calendar", "--ics", file("c.ics")}).exit_code, kDone);
  const auto events = say_json({"calendar"}).document()["events"];
  write("read.py", R"(import icalendar, json, sys
calendar = icalendar.Calendar.from_ical(open(sys.argv[1], 'rb').read())
print(json.dumps([{'on': e['DTSTART'].dt.isoformat(), 'text': str(e['SUMMARY']),
  'uid': str(e['UID']), 'value': e['DTSTART'].params.get('VALUE'),
  'rings': [a['TRIGGER'].dt.total_seconds() for a in e.walk('VALARM')]} for e in calendar.walk('VEVENT')]))
)");
  const std::string command =
      "/usr/bin/python3 " + file("read.py") + " " + file("c.ics") + " > " + file("read.json");
  ASSERT_EQ(std::system(command.c_str()), 0);
  const auto read_back = nlohmann::json::parse(read("read.json"));
  ASSERT_EQ(read_back.size(), events.size());
  std::set<std::string> uids;
  for (std::size_t i = 0; i < events.size(); ++i) {
    EXPECT_EQ(read_back[i]["on"], events[i]["on"]);
    EXPECT_EQ(read_back[i]["text"], events[i]["text"]);
    EXPECT_EQ(read_back[i]["value"], "DATE");
    EXPECT_EQ(read_back[i]["rings"], nlohmann::json({7 * 3600.0}));
    uids.insert(read_back[i]["uid"].get<std::string>());
  }
  EXPECT_EQ(uids.size(), events.size());
}

TEST_F(PlanCommand, calendar_holds_what_seedlings_and_grafts_ask_for) {
  ASSERT_EQ(say({"plan", file("2027.toml"), "--accept"}).exit_code, kDone);
  std::set<std::string> kinds;
  const auto document = say_json({"calendar"}).document();
  for (const auto& event : document["events"]) kinds.insert(event["what"].get<std::string>());
  EXPECT_EQ(kinds, (std::set<std::string>{"sow", "prick", "measure", "graft", "stage", "ready"}));
}

// Moved with the season: the same day of the same thing, its sequence raised.
TEST_F(PlanCommand, a_moved_date_keeps_its_uid_and_raises_its_sequence) {
  ASSERT_EQ(say({"plan", file("2027.toml"), "--accept"}).exit_code, kDone);
  ASSERT_EQ(say({"calendar", "--ics", file("before.ics")}).exit_code, kDone);
  ASSERT_EQ(say({"plan", "--last-frost", "2027-05-25", "--accept"}).exit_code, kDone);
  ASSERT_EQ(say({"calendar", "--ics", file("after.ics")}).exit_code, kDone);
  write("moved.py", R"(import icalendar, json, sys
def graft(name):
  for e in icalendar.Calendar.from_ical(open(name, 'rb').read()).walk('VEVENT'):
    if str(e['UID']).startswith('graft-'):
      return [str(e['UID']), int(e['SEQUENCE']), e['DTSTART'].dt.isoformat()]
print(json.dumps([graft(sys.argv[1]), graft(sys.argv[2])]))
)");
  const std::string command = "/usr/bin/python3 " + file("moved.py") + " " + file("before.ics") +
                              " " + file("after.ics") + " > " + file("moved.json");
  ASSERT_EQ(std::system(command.c_str()), 0);
  const auto moved = nlohmann::json::parse(read("moved.json"));
  EXPECT_EQ(moved[0][0], moved[1][0]);
  EXPECT_LT(moved[0][1], moved[1][1]);
  EXPECT_EQ(moved[0][2], "2027-05-15");
  EXPECT_EQ(moved[1][2], "2027-05-25");  // 14 days after the frost, 14 of healing and hardening
}

// A calendar takes files in as RFC 5545 (3.8.4.7, 3.8.7.4) has it: the same UID with a higher
// SEQUENCE replaces, STATUS:CANCELLED takes out. Read by icalendar (Debian's python3-icalendar).
TEST_F(PlanCommand, taking_the_calendar_in_again_moves_and_never_doubles) {
  const auto calendar = [&](const std::string& name) {
    ASSERT_EQ(say({"calendar", "--ics", file(name)}).exit_code, kDone);
  };
  ASSERT_EQ(say({"plan", file("2027.toml"), "--accept"}).exit_code, kDone);
  calendar("1.ics");
  ASSERT_EQ(say({"plan", "--last-frost", "2027-05-25", "--accept"}).exit_code, kDone);
  calendar("2.ics");
  ASSERT_EQ(say({"undo"}).exit_code, kDone);
  calendar("3.ics");
  write("take_in.py", R"(import icalendar, json, sys
have = {}
for name in sys.argv[1:]:
  fresh = set()
  for e in icalendar.Calendar.from_ical(open(name, 'rb').read()).walk('VEVENT'):
    uid, sequence = str(e['UID']), int(e['SEQUENCE'])
    assert uid not in fresh, uid
    fresh.add(uid)
    if uid in have and sequence < have[uid][0]: continue
    have[uid] = (sequence, e['DTSTART'].dt.isoformat(), str(e['SUMMARY']), str(e.get('STATUS', '')))
  print(json.dumps({'events': sorted([v[1:3] for v in have.values() if v[3] != 'CANCELLED']), 'uids': len(have)}))
)");
  for (const std::string last : {"1.ics", "2.ics", "3.ics"}) {
    std::string files;
    for (char n = '1'; n <= last[0]; ++n) files += " " + file(std::string(1, n) + ".ics");
    const std::string command =
        "/usr/bin/python3 " + file("take_in.py") + files + " | tail -n 1 > " + file("have.json");
    ASSERT_EQ(std::system(command.c_str()), 0);
    const auto have = nlohmann::json::parse(read("have.json"))["events"];
    // Exactly what a calendar that knew nothing before would hold after the last file alone.
    const std::string alone =
        "/usr/bin/python3 " + file("take_in.py") + " " + file(last) + " > " + file("alone.json");
    ASSERT_EQ(std::system(alone.c_str()), 0);
    EXPECT_EQ(have, nlohmann::json::parse(read("alone.json"))["events"]) << last;
  }
}

// Every seed of the plan stands in one cell of one tray; on the first day its trays are the
// bench's.
TEST_F(PlanCommand, trays_hold_what_the_plan_sows) {
  const auto document = say_json({"plan", file("2027.toml")}).document();
  std::map<std::string, int> planned, laid;
  for (const auto& line : document["plan"]["sowings"]) {
    planned[line["sow_on"].get<std::string>()] += line["seeds"].get<int>();
  }
  std::map<std::string, int> trays;
  for (const auto& tray : document["trays"]) {
    ++trays[tray["sow_on"].get<std::string>()];
    for (const auto& run : tray["cells"]) {
      laid[tray["sow_on"].get<std::string>()] += run["seeds"].get<int>();
    }
  }
  EXPECT_EQ(planned, laid);
  const auto first = document["space"][0];
  EXPECT_EQ(first["on"], document["plan"]["sowings"][0]["sow_on"]);
  EXPECT_EQ(first["bench_trays"].get<int>(), trays[first["on"].get<std::string>()]);
  const auto last = document["space"].back();
  EXPECT_EQ(last["bench_trays"], 0);
  EXPECT_EQ(last["chamber_trays"], 0);
  EXPECT_THAT(say({"plan", file("2027.toml"), "--trays"}).out, HasSubstr("1 to "));
}

TEST_F(PlanCommand, explains_a_pairing_in_words_days_and_seed) {
  const Said said = say_json({"plan", file("2027.toml"), "--explain", "quarry/iron"});
  ASSERT_EQ(said.exit_code, kDone) << said.err;
  const auto told = said.document()["explained"];
  EXPECT_GE(told["days"].size(), 10U);
  EXPECT_GE(told["reasons"].size(), 4U);
  double last = 0;
  for (const auto& point : told["by_seed"]) {
    EXPECT_GE(point["probability"].get<double>(), last);
    last = point["probability"].get<double>();
  }
  EXPECT_GT(last, 0.9);
  const Said text = say({"plan", file("2027.toml"), "--explain", "quarry/iron"});
  EXPECT_THAT(text.out, HasSubstr("  graft\n"));
  EXPECT_EQ(say_json({"plan", file("2027.toml"), "--explain", "P9"}).document()["error"]["code"],
            "not-there");
}

TEST_F(PlanCommand, what_if_stands_beside_the_plan) {
  const auto document =
      say_json({"plan", file("2027.toml"), "--what-if", "confidence=0.7"}).document();
  EXPECT_LT(document["what_if"]["plan"]["pairings"][0]["cost"],
            document["plan"]["pairings"][0]["cost"]);
  EXPECT_EQ(say({"plan", file("2027.toml"), "--what-if", "weather=fine"}).exit_code, kWrongUsage);
}

TEST_F(PlanCommand, pairing_check_says_unknown_and_never_fine) {
  load();
  const auto document = say_json({"pairing", "check", "P1"}).document();
  EXPECT_EQ(document["warnings"][0]["code"], "virus-genes-unknown");
  EXPECT_THAT(say({"pairing", "check", "P1"}).out, HasSubstr("is not known"));
}

// RFC 5545, 3.1: lines end in CRLF, are no longer than 75 octets, and a folded one goes on with a
// blank; 3.3.11: backslash, semicolon, comma and line break are escaped in TEXT.
TEST(Ics, folds_between_characters_and_escapes) {
  DayEvent event{"u@x", 2, sensors::make_day(2027, 12, 31), "", "a,b;c\\d\ne"};
  for (int i = 0; i < 60; ++i) event.summary += "é";
  const std::string text =
      ics_text(std::vector{event}, "x", *sensors::parse_instant("2027-04-12T09:30:00.250Z"));
  std::istringstream lines(text);
  std::string unfolded;
  for (std::string line; std::getline(lines, line);) {
    ASSERT_EQ(line.back(), '\r');
    line.pop_back();
    EXPECT_LE(line.size(), 75U);
    EXPECT_NE(static_cast<unsigned char>(line[line.starts_with(' ') ? 1 : 0]) & 0xC0U, 0x80U);
    unfolded += line.starts_with(' ') ? line.substr(1) : "\n" + line;
  }
  EXPECT_THAT(unfolded, HasSubstr("\nSUMMARY:" + event.summary + "\n"));
  EXPECT_THAT(unfolded, HasSubstr("\nDESCRIPTION:a\\,b\\;c\\\\d\\ne\n"));
  EXPECT_THAT(unfolded, HasSubstr("\nDTEND;VALUE=DATE:20280101\n"));
  EXPECT_THAT(unfolded, HasSubstr("\nDTSTAMP:20270412T093000Z\n"));
}

}  // namespace
}  // namespace takehold::client
