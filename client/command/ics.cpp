// Sections of RFC 5545 (Desruisseaux 2009): 3.1 folding and CRLF, 3.3.11 escaping of TEXT, 3.6.1
// VEVENT, 3.8.2.4 DTSTART with VALUE=DATE, 3.8.4.7 UID, 3.8.7.2 DTSTAMP, 3.8.1.11 STATUS, 3.6.6
// VALARM with a TRIGGER relative to the start.
#include "client/command/ics.hpp"

#include <algorithm>

namespace takehold::client {
namespace {

constexpr std::size_t kFoldAt = 75;  // octets of a line, its end not counted

bool continues_character(char byte) {
  return (static_cast<unsigned char>(byte) & 0xC0U) == 0x80U;
}

std::string folded_line(std::string_view line) {
  std::string text;
  std::size_t room = kFoldAt;
  while (line.size() > room) {
    std::size_t cut = room;
    while (cut > 0 && continues_character(line[cut])) --cut;
    text.append(line.substr(0, cut)).append("\r\n ");
    line.remove_prefix(cut);
    room = kFoldAt - 1;  // the blank that begins it counts
  }
  return text.append(line).append("\r\n");
}

std::string escaped(std::string_view text) {
  std::string safe;
  for (const char c : text) {
    if (c == '\n') {
      safe += "\\n";
      continue;
    }
    if (static_cast<unsigned char>(c) < 0x20) continue;  // no control character may stand in TEXT
    if (c == '\\' || c == ';' || c == ',') safe += '\\';
    safe += c;
  }
  return safe;
}

std::string digits_of(std::string text) {
  std::erase(text, '-');
  std::erase(text, ':');
  return text;
}

std::string stamp(sensors::Instant instant) {
  return digits_of(
      sensors::to_string(sensors::Instant(std::chrono::floor<std::chrono::seconds>(instant))));
}

std::string event_text(const DayEvent& event, sensors::Instant made_at) {
  std::string text = "BEGIN:VEVENT\r\n";
  text += folded_line("UID:" + escaped(event.uid));
  text += "DTSTAMP:" + stamp(made_at) + "\r\n";
  text += "SEQUENCE:" + std::to_string(event.sequence) + "\r\n";
  text += "DTSTART;VALUE=DATE:" + digits_of(sensors::to_string(event.on)) + "\r\n";
  text += "DTEND;VALUE=DATE:" + digits_of(sensors::to_string(event.on + sensors::Days(1))) + "\r\n";
  text += folded_line("SUMMARY:" + escaped(event.summary));
  if (!event.description.empty()) text += folded_line("DESCRIPTION:" + escaped(event.description));
  text += "TRANSP:TRANSPARENT\r\n";
  if (event.cancelled) text += "STATUS:CANCELLED\r\n";
  if (event.rings && !event.cancelled) {
    text += "BEGIN:VALARM\r\nACTION:DISPLAY\r\nTRIGGER:PT7H\r\n";
    text += folded_line("DESCRIPTION:" + escaped(event.summary)) + "END:VALARM\r\n";
  }
  text += "END:VEVENT\r\n";
  return text;
}

}  // namespace

std::string ics_text(std::span<const DayEvent> events, std::string_view calendar_name,
                     sensors::Instant made_at) {
  std::string text =
      "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//takehold//grafting calendar//EN\r\n"
      "CALSCALE:GREGORIAN\r\n";
  text += folded_line("X-WR-CALNAME:" + escaped(calendar_name));
  for (const DayEvent& event : events) text += event_text(event, made_at);
  return text + "END:VCALENDAR\r\n";
}

}  // namespace takehold::client
