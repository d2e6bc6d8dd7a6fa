// Bytes as a wire delivers them, in pieces of any size, cut into lines.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "sensors/quantity/problem.hpp"

namespace takehold::sensors {

/// Feed bytes, take lines. The first line after the wire was opened may be the tail of one; the
/// pattern decides. Holds at most `max_line` bytes and what one feed() brought.
class LineSplitter {
 public:
  explicit LineSplitter(std::size_t max_line) : max_line_(max_line) {}

  void feed(std::string_view bytes);

  /// The next whole line without its end (LF, CR LF or CR); empty lines are passed over. A line
  /// longer than allowed is dropped whole and told once: code "too-long". None: feed more.
  std::optional<Result<std::string>> next();

  /// Forgets what is held, as after the wire was lost.
  void reset();

 private:
  void trim_overlong();

  std::size_t max_line_;
  std::string held_;
  bool overlong_ = false;  ///< dropping until the next line end
};

}  // namespace takehold::sensors
