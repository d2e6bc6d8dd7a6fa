#include "sensors/codec/line_splitter.hpp"

#include <utility>

namespace takehold::sensors {
namespace {

constexpr std::string_view kEnds = "\r\n";

}  // namespace

void LineSplitter::feed(std::string_view bytes) {
  held_.append(bytes);
}

void LineSplitter::reset() {
  held_.clear();
  overlong_ = false;
}

void LineSplitter::trim_overlong() {
  if (held_.size() <= max_line_) return;
  overlong_ = true;
  held_.clear();
}

std::optional<Result<std::string>> LineSplitter::next() {
  for (;;) {
    const auto end = held_.find_first_of(kEnds);
    if (end == std::string::npos) {
      trim_overlong();
      return std::nullopt;
    }
    std::string line = held_.substr(0, end);
    held_.erase(0, end + 1);
    if (overlong_ || line.size() > max_line_) {
      overlong_ = false;
      return Result<std::string>(Problem{"too-long", "the line is too long",
                                         "more than " + std::to_string(max_line_) + " bytes", "",
                                         ""});
    }
    if (!line.empty()) return Result<std::string>(boost::system::in_place_value, std::move(line));
  }
}

}  // namespace takehold::sensors
