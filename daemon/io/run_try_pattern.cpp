#include <fmt/format.h>

#include <iostream>

#include "daemon/io/run.hpp"
#include "sensors/codec/line_decoder.hpp"
#include "sensors/codec/told.hpp"

namespace takehold::daemon {

using sensors::Decoded;

namespace {

void tell(const Decoded& decoded, std::ostream& out) {
  if (decoded.temperature) {
    out << fmt::format("  temperature        {:g} degC\n", decoded.temperature->degc());
  }
  if (decoded.humidity)
    out << fmt::format("  humidity           {:g} %\n", decoded.humidity->pct());
  const auto& [leaf, co2, light] = decoded.extras;
  if (leaf) out << fmt::format("  leaf temperature   {:g} degC\n", leaf->degc());
  if (co2) out << fmt::format("  carbon dioxide     {:g} ppm\n", co2->ppm());
  if (light) out << fmt::format("  light              {:g} umol\n", light->umol());
}

bool try_line(const sensors::LineDecoder& decoder, std::string line, std::ostream& out) {
  while (!line.empty() && (line.back() == '\n' || line.back() == '\r')) line.pop_back();
  out << sensors::quote_bytes(line) << "\n";
  const auto decoded = decoder.decode(line);
  if (decoded) {
    tell(*decoded, out);
  } else {
    out << "  " << decoded.error().sentence() << "\n";
  }
  return decoded.has_value();
}

}  // namespace

int run_try_pattern(const std::string& pattern, const std::vector<std::string>& lines,
                    std::istream& in, std::ostream& out) {
  const auto decoder = sensors::LineDecoder::make(sensors::PatternText{pattern}).value();
  int tried = 0, matched = 0;
  for (const auto& line : lines) {
    ++tried;
    matched += try_line(decoder, line, out);
  }
  std::string line;
  while (lines.empty() && std::getline(in, line)) {
    ++tried;
    matched += try_line(decoder, line, out);
  }
  if (tried == 0) out << "no line to try: give one after the pattern, or pipe some in\n";
  return tried > 0 && matched == tried ? 0 : 1;
}

}  // namespace takehold::daemon
