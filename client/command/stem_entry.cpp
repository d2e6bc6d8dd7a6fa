#include "client/command/stem_entry.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "client/season/stem_text.hpp"

namespace takehold::client {

namespace {

std::string mm_text(Millimetres diameter) {
  return fmt::format("{:g} mm", diameter.mm());
}

/// "2.3?" of a lost decimal point as a diameter.
std::optional<Millimetres> guessed(const std::string& hint) {
  if (!hint.ends_with('?')) return std::nullopt;
  const auto diameter = parse_stem(hint.substr(0, hint.size() - 1));
  return diameter ? std::optional(*diameter) : std::nullopt;
}

std::vector<std::string_view> words_of(std::string_view line) {
  constexpr std::string_view kBlank = " \t\r;";
  std::vector<std::string_view> words;
  while (true) {
    const auto first = line.find_first_not_of(kBlank);
    if (first == std::string_view::npos) return words;
    line.remove_prefix(first);
    words.push_back(line.substr(0, line.find_first_of(kBlank)));
    line.remove_prefix(words.back().size());
  }
}

}  // namespace

std::string StemEntry::prompt() const {
  const bool all = standing_ && static_cast<int>(stems_.size()) >= *standing_;
  return fmt::format("{}-{}{}: ", sowing_, next_, all ? " (all that stand are measured)" : "");
}

std::string StemEntry::take(std::string_view line) {
  const auto words = words_of(line);
  if (words.empty()) {
    if (proposed_) return add(*std::exchange(proposed_, std::nullopt));
    ended_ = true;
    return "";
  }
  for (std::size_t i = 0; i < words.size(); ++i) {
    const std::string said = take_word(words[i]);
    if (said.empty() && !ended_) continue;
    const bool rest = i + 1 < words.size() && proposed_;
    return rest ? said + "\nwhat stood behind it was not taken" : said;
  }
  return "";
}

std::string StemEntry::take_word(std::string_view word) {
  if (word == "u") return take_back();
  proposed_.reset();
  if (word == "q") {
    ended_ = out_ = true;
    return "";
  }
  if (word == "-") {
    ++next_;
    return "";
  }
  if (word.find('=') != std::string_view::npos) {
    const auto stems = parse_stems(word, units_);
    return stems ? take_stem(stems->front()) : stems.error().title;
  }
  const auto diameter = parse_stem(word, units_);
  if (diameter) return take_stem({next_, *diameter});
  const auto meant = guessed(diameter.error().hint);
  if (!meant) return diameter.error().sentence();
  proposed_ = Stem{next_, *meant};
  return fmt::format("{}: Enter takes {}, or type it again", diameter.error().title,
                     mm_text(*meant));
}

std::string StemEntry::take_back() {
  if (std::exchange(proposed_, std::nullopt)) return "not taken; type it again";
  if (stems_.empty()) return "nothing to take back in this sowing";
  const Stem last = stems_.back();
  stems_.pop_back();
  next_ = last.number;
  return fmt::format("{}-{} taken back, it was {}", sowing_, last.number, mm_text(last.diameter));
}

std::string StemEntry::take_stem(Stem stem) {
  if (stem.number > seeds_) {
    return fmt::format("there is no {}-{}: {} seeds were sown", sowing_, stem.number, seeds_);
  }
  const auto same = std::find_if(stems_.begin(), stems_.end(),
                                 [&](const Stem& s) { return s.number == stem.number; });
  if (same != stems_.end()) {
    return fmt::format("{}-{} is measured already: {}", sowing_, stem.number,
                       mm_text(same->diameter));
  }
  const auto usual = middle();
  const bool far =
      usual && (stem.diameter > *usual * kFarFromOthers || stem.diameter < *usual / kFarFromOthers);
  if (!far) return add(stem);
  proposed_ = stem;
  return fmt::format(
      "{} is far from the others, {} in the middle: Enter takes it, or type it again",
      mm_text(stem.diameter), mm_text(*usual));
}

std::string StemEntry::add(Stem stem) {
  stems_.push_back(stem);
  next_ = stem.number + 1;
  return "";
}

std::optional<Millimetres> StemEntry::middle() const {
  constexpr std::size_t kEnough = 3;
  if (stems_.size() < kEnough) return std::nullopt;
  std::vector<Millimetres> sorted;
  for (const Stem& stem : stems_) sorted.push_back(stem.diameter);
  std::nth_element(sorted.begin(), sorted.begin() + static_cast<long>(sorted.size() / 2),
                   sorted.end());
  return sorted[sorted.size() / 2];
}

}  // namespace takehold::client
