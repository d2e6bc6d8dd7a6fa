// The sheet to work from, in characters.
#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "client/command/match.hpp"
#include "client/terminal/numbers.hpp"
#include "client/terminal/table.hpp"
#include "client/terminal/text_width.hpp"

namespace takehold::client {
namespace {

std::string length(Micrometres um, const TerminalStyle& style, int decimals = 2) {
  return bare(sensors::Millimetres::um(um), style.units, decimals);
}

/// A stem as the grower knows it: its name, or its place in the file counted from 1.
std::string stem_name(const StemSide& side, std::size_t index) {
  return side.names.empty() ? fmt::format("{}", index + 1) : side.names[index];
}

std::string table_of(const StemMatch& match, const std::string& pairing,
                     const TerminalStyle& style) {
  const std::string unit(unit_of_length(style.units));
  Table table({{"place", Align::right},
               {"rootstock"},
               {unit, Align::decimal},
               {"scion"},
               {unit, Align::decimal},
               {"apart, " + unit, Align::decimal},
               {"clip, " + unit, Align::decimal},
               {"write as"}});
  int place = 0;
  for (const std::size_t index : pairs_of(match, pairing)) {
    const StemPair& pair = match.matching.pairs[index];
    table.add(
        {std::to_string(++place), stem_name(match.rootstocks, pair.rootstock),
         length(match.rootstocks.stems[pair.rootstock], style), stem_name(match.scions, pair.scion),
         length(match.scions.stems[pair.scion], style), length(pair.mismatch, style),
         fixed(static_cast<double>(clip_for(match, pair)) / 1000.0, 1), pair_code(match, pair)});
  }
  return table.text(style);
}

std::string share_text(const StemMatch& match, const MatchShare& share,
                       const TerminalStyle& style) {
  const std::string wanted = share.wanted ? fmt::format(" ({} wanted)", *share.wanted) : "";
  const std::string head =
      fmt::format("{} {} on {}: {}{}\n", share.pairing, share.scion, share.rootstock,
                  counted(share.count, "pair", "pairs"), wanted);
  return inked(head, Ink::strong, style) + table_of(match, share.pairing, style);
}

std::string clips_text(const StemMatch& match, const TerminalStyle& style) {
  std::map<Micrometres, int> counts;
  int both = 0;
  for (const StemPair& pair : match.matching.pairs) {
    ++counts[clip_for(match, pair)];
    both += clip_size(match.rootstocks.stems[pair.rootstock]) ==
                    clip_size(match.scions.stems[pair.scion])
                ? 0
                : 1;
  }
  if (counts.empty()) return "";
  std::string text = "Lay out clips: ";
  for (const auto& [clip, count] : counts) {
    text += fmt::format("{}{} of {}", text.ends_with(' ') ? "" : ", ", count,
                        shown(sensors::Millimetres::um(clip), style.units, 1));
  }
  if (both > 0) {
    text += fmt::format("; {} {} between two sizes: the thicker stem's clip, one edge lined up",
                        counted(both, "pair", "pairs"), both == 1 ? "lies" : "lie");
  }
  return text + ".";
}

/// The heading of what happens alike to many.
std::string fate_of(const LeftOverLine& line, const TerminalStyle& style) {
  const int days = line.in_days.value_or(0);
  if (line.what == "tomorrow") return "Match again tomorrow";
  if (line.what == "later" && days > 0) return fmt::format("Match again in {} days", days);
  if (line.what == "later") return "Keep";
  if (line.what == "cooler") {
    return fmt::format("To a place {} cooler for {}", style.units == Units::us ? "11 °F" : "6 °C",
                       counted(days, "day", "days"));
  }
  return "Discard, or keep as spares";
}

std::string left_over_stem(const StemMatch& match, const LeftOverLine& line,
                           const TerminalStyle& style) {
  const StemSide& own = line.side == Side::rootstock ? match.rootstocks : match.scions;
  const std::string side = own.names.empty() ? std::string(to_text(line.side)) + " " : "";
  return fmt::format("{}{} ({})", side, stem_name(own, line.stem),
                     length(own.stems[line.stem], style));
}

/// Entries in the order first met.
using Grouped = std::vector<std::pair<std::string, std::string>>;

std::string& entry_of(Grouped& groups, const std::string& name) {
  const auto known = std::find_if(groups.begin(), groups.end(),
                                  [&](const auto& group) { return group.first == name; });
  if (known != groups.end()) return known->second;
  return groups.emplace_back(name, "").second;
}

/// What is to be done, then the stems of one reason together.
std::string left_over_text(const StemMatch& match, const TerminalStyle& style) {
  if (match.left_over.empty()) return "Nothing is left over.\n";
  std::vector<std::pair<std::string, Grouped>> fates;
  for (const LeftOverLine& line : match.left_over) {
    const std::string fate = fate_of(line, style);
    auto group = std::find_if(fates.begin(), fates.end(),
                              [&](const auto& known) { return known.first == fate; });
    if (group == fates.end()) group = fates.insert(fates.end(), {fate, {}});
    std::string& stems = entry_of(group->second, line.reason);
    stems += (stems.empty() ? "" : ", ") + left_over_stem(match, line, style);
  }
  std::string text = inked("Left over", Ink::strong, style) + "\n";
  for (const auto& [fate, reasons] : fates) {
    text += fate + "\n";
    for (const auto& [reason, stems] : reasons) {
      text += wrapped(stems + ": " + reason, style.width, "  ") + "\n";
    }
  }
  return text;
}

}  // namespace

std::string match_text(const StemMatch& match, const TerminalStyle& style) {
  std::string text;
  for (const MatchShare& share : match.shares) text += share_text(match, share, style) + "\n";
  if (match.shares.empty()) text = table_of(match, "", style);
  const auto& matching = match.matching;
  const std::string sum =
      fmt::format("{}, {} {} apart in all. ",
                  counted(static_cast<long long>(matching.count()), "pair", "pairs"),
                  length(matching.mismatch_total, style), unit_of_length(style.units));
  text += wrapped(sum + clips_text(match, style), style.width) + "\n";
  return text + left_over_text(match, style);
}

}  // namespace takehold::client
