#include "client/command/stem_list.hpp"

#include <fmt/format.h>

#include "client/terminal/numbers.hpp"

namespace takehold::client {

using sensors::Millimetres;

namespace {

std::string_view trimmed(std::string_view text) {
  const auto first = text.find_first_not_of(" \t\r");
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(" \t\r") - first + 1);
}

[[noreturn]] void refuse(const std::string& where, std::string title, std::string hint) {
  throw sensors::Refused({"bad-diameter", std::move(title), "", where, std::move(hint)});
}

/// The diameter that was meant when a decimal point got lost.
std::string lost_point_hint(double mm) {
  for (const double meant : {mm / 10.0, mm / 100.0}) {
    if (meant >= 1.0 && meant <= 5.0) return fmt::format("did you mean {:g}?", meant);
  }
  return "stems are given in millimetres";
}

Millimetres read_line(std::string_view line, const std::string& file, int number) {
  const auto where = [&] { return fmt::format("{}:{}", file, number); };  // seldom needed
  const auto diameter = parse_length(line, Units::metric, "");
  if (!diameter) refuse(where(), diameter.error().title, "one diameter a line, like 2.1");
  if (diameter->um() <= 0) refuse(where(), fmt::format("{} is no diameter", line), "");
  if (diameter->um() > kThickestListed.um()) {
    refuse(where(), fmt::format("{:g} mm is thicker than any seedling's stem", diameter->mm()),
           lost_point_hint(diameter->mm()));
  }
  return *diameter;
}

}  // namespace

std::vector<Millimetres> read_stem_list(std::string_view text, const std::string& file) {
  std::vector<Millimetres> stems;
  for (int number = 1; !text.empty(); ++number) {
    const auto end = text.find('\n');
    const auto line = trimmed(text.substr(0, end));
    text = end == std::string_view::npos ? std::string_view{} : text.substr(end + 1);
    if (line.empty() || line.front() == '#') continue;
    stems.push_back(read_line(line, file, number));
  }
  return stems;
}

}  // namespace takehold::client
