// Server-sent events out of a stream of bytes, as the HTML Living Standard, section 9.2, has them.
// Pure: bytes in, events out.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace takehold::daemon {

struct ServerEvent {
  std::string name = "message";
  std::string id;  ///< of this event, or of the last that had one
  std::string data;

  friend bool operator==(const ServerEvent&, const ServerEvent&) = default;
};

class EventParser {
 public:
  /// `last_id`: the id to give events until one brings its own.
  explicit EventParser(std::string last_id = "") : last_id_(std::move(last_id)) {}

  /// The events that `bytes` complete. Lines end in LF, CR or CRLF, cut anywhere.
  std::vector<ServerEvent> feed(std::string_view bytes);

  const std::string& last_id() const { return last_id_; }
  /// An event grew beyond kLargestEvent: the stream is not to be read on.
  bool overflowed() const { return overflowed_; }
  static constexpr std::size_t kLargestEvent = 1024 * 1024;

 private:
  void end_line(std::vector<ServerEvent>& events);
  void take_field(std::string_view name, std::string_view value);

  std::string last_id_;
  std::string line_;
  std::string name_;
  std::string data_;
  bool has_data_ = false;
  bool after_cr_ = false;
  bool at_start_ = true;  ///< a byte order mark may come
  bool overflowed_ = false;
};

}  // namespace takehold::daemon
