#include "daemon/http/event_parser.hpp"

namespace takehold::daemon {

std::vector<ServerEvent> EventParser::feed(std::string_view bytes) {
  std::vector<ServerEvent> events;
  for (const char c : bytes) {
    if (overflowed_) break;
    const bool second_of_crlf = after_cr_ && c == '\n';
    after_cr_ = c == '\r';
    if (second_of_crlf) continue;
    if (c == '\n' || c == '\r') {
      end_line(events);
    } else {
      line_ += c;
      overflowed_ = line_.size() + data_.size() > kLargestEvent;
    }
  }
  return events;
}

void EventParser::end_line(std::vector<ServerEvent>& events) {
  std::string line;
  line.swap(line_);
  if (at_start_ && line.starts_with("\xef\xbb\xbf")) line.erase(0, 3);
  at_start_ = false;
  if (line.empty()) {
    if (has_data_) events.push_back({name_.empty() ? "message" : name_, last_id_, data_});
    name_.clear();
    data_.clear();
    has_data_ = false;
    return;
  }
  const std::size_t colon = line.find(':');
  if (colon == 0) return;  // a comment, which keeps the line alive
  const std::string_view whole = line;
  std::string_view value = colon == std::string::npos ? "" : whole.substr(colon + 1);
  if (value.starts_with(' ')) value.remove_prefix(1);
  take_field(whole.substr(0, colon), value);
}

void EventParser::take_field(std::string_view name, std::string_view value) {
  if (name == "data") {
    if (has_data_) data_ += '\n';
    data_ += value;
    has_data_ = true;
  } else if (name == "event") {
    name_ = value;
  } else if (name == "id" && value.find('\0') == std::string_view::npos) {
    last_id_ = value;
  }  // "retry" and unknown fields: when to come back is the caller's business
}

}  // namespace takehold::daemon
