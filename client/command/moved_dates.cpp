#include "client/command/moved_dates.hpp"

#include <cctype>

namespace takehold::client {

std::string with_dates_moved(std::string_view text, sensors::Days by) {
  constexpr std::size_t kLength = 10;  // of "2027-04-12"
  const auto is_digit = [&](std::size_t at) {
    return at < text.size() && std::isdigit(static_cast<unsigned char>(text[at])) != 0;
  };
  std::string moved;
  for (std::size_t at = 0; at < text.size();) {
    const bool stands_alone = (at == 0 || !is_digit(at - 1)) && !is_digit(at + kLength);
    const auto day = sensors::parse_day(text.substr(at, kLength));
    if (stands_alone && day) {
      moved += sensors::to_string(*day + by);
      at += kLength;
    } else {
      moved += text[at++];
    }
  }
  return moved;
}

}  // namespace takehold::client
