#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>

#include "client/command/match.hpp"

namespace takehold::client {

using nlohmann::json;

namespace {

double in_mm(Micrometres length) {
  return static_cast<double>(length) / 1000.0;
}

json name_of(const StemSide& side, std::size_t stem) {
  return side.names.empty() ? json() : json(side.names[stem]);
}

std::string number_of(const std::string& seedling) {
  return seedling.substr(seedling.find('-') + 1);
}

// Thousands of these: put in one by one, in the order of their keys, which spares the lists that a
// braced object is made from.
json pair_json(const StemMatch& match, std::size_t index, int place) {
  const StemPair& pair = match.matching.pairs[index];
  json row = json::object();
  auto& fields = row.get_ref<json::object_t&>();
  const auto put = [&](const char* key, auto value) {
    fields.emplace_hint(fields.end(), key, std::move(value));
  };
  put("clip_mm", in_mm(clip_for(match, pair)));
  put("code", pair_code(match, pair));
  put("mismatch_mm", in_mm(pair.mismatch));
  if (!match.pairings.empty()) put("pairing", match.pairings[index]);
  put("place", place);
  put("rootstock", pair.rootstock);
  put("rootstock_mm", in_mm(match.rootstocks.stems[pair.rootstock]));
  if (!match.rootstocks.names.empty()) {
    put("rootstock_seedling", match.rootstocks.names[pair.rootstock]);
  }
  put("scion", pair.scion);
  put("scion_mm", in_mm(match.scions.stems[pair.scion]));
  if (!match.scions.names.empty()) put("scion_seedling", match.scions.names[pair.scion]);
  return row;
}

/// By rising place of the rootstock; `place` counts within each pairing, as in the batch's tray.
json pairs_json(const StemMatch& match) {
  json pairs = json::array();
  std::map<std::string, int> places;
  for (std::size_t i = 0; i < match.matching.pairs.size(); ++i) {
    const int place = ++places[match.pairings.empty() ? "" : match.pairings[i]];
    pairs.push_back(pair_json(match, i, place));
  }
  return pairs;
}

json clips_json(const StemMatch& match) {
  std::map<Micrometres, int> counts;
  for (const StemPair& pair : match.matching.pairs) ++counts[clip_for(match, pair)];
  json clips = json::array();
  for (const auto& [clip, count] : counts) {
    clips.push_back({{"clip_mm", in_mm(clip)}, {"count", count}});
  }
  return clips;
}

json left_over_json(const StemMatch& match, const LeftOverLine& line) {
  const bool below = line.side == Side::rootstock;
  const StemSide& own = below ? match.rootstocks : match.scions;
  const StemSide& other = below ? match.scions : match.rootstocks;
  json row{{"side", std::string(to_text(line.side))},
           {"stem", line.stem},
           {"seedling", name_of(own, line.stem)},
           {"diameter_mm", in_mm(own.stems[line.stem])},
           {"what", line.what},
           {"in_days", nullptr},
           {"partner", nullptr},
           {"partner_seedling", nullptr},
           {"then_mm", nullptr},
           {"reason", line.reason}};
  if (line.in_days) row["in_days"] = *line.in_days;
  if (line.then) row["then_mm"] = in_mm(*line.then);
  if (line.partner) {
    row["partner"] = *line.partner;
    row["partner_seedling"] = name_of(other, *line.partner);
  }
  return row;
}

json share_json(const MatchShare& share) {
  return {{"pairing", share.pairing},
          {"scion", share.scion},
          {"rootstock", share.rootstock},
          {"count", share.count},
          {"wanted", share.wanted ? json(*share.wanted) : json()},
          {"mismatch_total_mm", in_mm(share.mismatch)}};
}

}  // namespace

std::vector<Micrometres> whole_micrometres(std::span<const sensors::Millimetres> stems) {
  std::vector<Micrometres> whole;
  whole.reserve(stems.size());
  for (const auto& stem : stems) whole.push_back(stem.um());
  return whole;
}

Micrometres clip_for(const StemMatch& match, const StemPair& pair) {
  return std::max(clip_size(match.rootstocks.stems[pair.rootstock]),
                  clip_size(match.scions.stems[pair.scion]));
}

std::string pair_code(const StemMatch& match, const StemPair& pair) {
  if (match.rootstocks.names.empty()) {
    return fmt::format("R{}-S{}", pair.rootstock + 1, pair.scion + 1);
  }
  const std::string& below = match.rootstocks.names[pair.rootstock];
  const std::string& above = match.scions.names[pair.scion];
  if (!match.rootstocks.lone[pair.rootstock] || !match.scions.lone[pair.scion]) {
    return below + " " + above;
  }
  return "R" + number_of(below) + "-S" + number_of(above);
}

std::vector<std::size_t> pairs_of(const StemMatch& match, const std::string& pairing) {
  std::vector<std::size_t> pairs;
  for (std::size_t i = 0; i < match.matching.pairs.size(); ++i) {
    if (match.pairings.empty() || match.pairings[i] == pairing) pairs.push_back(i);
  }
  return pairs;
}

json to_json(const StemMatch& match) {
  json left_over = json::array(), shares = json::array();
  for (const LeftOverLine& line : match.left_over) {
    left_over.push_back(left_over_json(match, line));
  }
  for (const MatchShare& share : match.shares) shares.push_back(share_json(share));
  return {{"pairs", pairs_json(match)},
          {"count", match.matching.count()},
          {"mismatch_total_mm", in_mm(match.matching.mismatch_total)},
          {"left_over",
           {{"rootstocks", match.matching.rootstocks_left_over},
            {"scions", match.matching.scions_left_over}}},
          {"clips", clips_json(match)},
          {"left_over_stems", std::move(left_over)},
          {"pairings", std::move(shares)}};
}

}  // namespace takehold::client
