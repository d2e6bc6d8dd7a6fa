#include "daemon/healing/chore.hpp"

#include <algorithm>
#include <charconv>
#include <sstream>

namespace takehold::daemon {

using std::chrono::minutes;

namespace {

constexpr minutes kMorning{8 * 60}, kEvening{18 * 60};
constexpr int kLastDay = 999;

using Words = std::vector<std::string>;

Words words_of(const std::string& text) {
  std::istringstream in(text);
  Words words;
  for (std::string word; in >> word;) words.push_back(std::move(word));
  return words;
}

bool ends_clause(const std::string& word) {
  return !word.empty() && (word.back() == ',' || word.back() == ';' || word.back() == '.');
}

std::string bare(std::string word) {
  while (ends_clause(word)) word.pop_back();
  return word;
}

std::optional<int> whole(const std::string& word) {
  int number = 0;
  const auto [end, error] = std::from_chars(word.data(), word.data() + word.size(), number);
  if (error != std::errc() || end != word.data() + word.size()) return std::nullopt;
  if (number < 0 || number > kLastDay) return std::nullopt;
  return number;
}

/// Reads what words from `at` on say of time: how many they are; 0: nothing.
class Reader {
 public:
  Reader(const Words& words, Chore& chore) : words_(words), chore_(chore) {}

  std::size_t read(std::size_t at) {
    const std::string& first = words_[at];
    if (first == "at") return read_clock(at);
    if (first == "on" || first == "from") return read_days(at);
    if (first == "each" || first == "every") return read_each(at);
    if (bare(first) == "daily") return chore_.daily = true, 1;
    return 0;
  }

 private:
  std::string word(std::size_t at) const { return at < words_.size() ? bare(words_[at]) : ""; }

  /// "at 8:00, 13:00 and 18:00"
  std::size_t read_clock(std::size_t at) {
    std::size_t next = at + 1, read = 0;
    while (true) {
      const auto time = clock_time(word(next));
      if (!time) break;
      chore_.times.push_back(*time);
      read = ++next - at;
      if (word(next) == "and") ++next;
    }
    if (read > 0) chore_.daily = true;
    return read;
  }

  /// "on day 2", "on days 3 to 5", "from day 12 on"
  std::size_t read_days(std::size_t at) {
    const std::string what = word(at + 1);
    const auto first = whole(word(at + 2));
    if ((what != "day" && what != "days") || !first) return 0;
    chore_.from_day = first;
    if (words_[at] == "from") return word(at + 3) == "on" ? 4 : 3;
    if (word(at + 3) == "to") {
      if (const auto last = whole(word(at + 4))) {
        chore_.to_day = last;
        chore_.daily = true;
        return 5;
      }
    }
    day_alone_ = true;
    return 3;
  }

  std::size_t read_each(std::size_t at) {
    const std::string what = word(at + 1);
    if (what == "morning") chore_.times.push_back(kMorning);
    if (what == "evening") chore_.times.push_back(kEvening);
    if (what != "morning" && what != "evening" && what != "day") return 0;
    chore_.daily = true;
    return 2;
  }

  const Words& words_;
  Chore& chore_;

 public:
  bool day_alone_ = false;  ///< "on day 4" without an end
};

}  // namespace

bool Chore::is_look() const {
  return what == "look" || what.starts_with("look,") || what.starts_with("look at the leaves");
}

Chore chore_of(const std::string& task) {
  const Words words = words_of(task);
  Chore chore;
  Reader reader(words, chore);
  for (std::size_t at = 0; at < words.size();) {
    const std::size_t read = reader.read(at);
    if (read == 0) {
      chore.what += (chore.what.empty() ? "" : " ") + words[at++];
      continue;
    }
    at += read;
    if (at < words.size() && ends_clause(words[at - 1])) chore.what += words[at - 1].back();
  }
  while (!chore.what.empty() && (chore.what.back() == ',' || chore.what.back() == ' ')) {
    chore.what.pop_back();
  }
  // With an hour it is of that day alone; without, it is due until it is done.
  if (reader.day_alone_ && !chore.times.empty()) chore.to_day = chore.from_day;
  std::sort(chore.times.begin(), chore.times.end());
  return chore;
}

std::optional<minutes> clock_time(const std::string& text) {
  const auto colon = text.find(':');
  if (colon == std::string::npos || colon == 0 || colon > 2 || text.size() != colon + 3) {
    return std::nullopt;
  }
  const auto hour = whole(text.substr(0, colon)), minute = whole(text.substr(colon + 1));
  if (!hour || !minute || *hour > 23 || *minute > 59) return std::nullopt;
  return minutes(60 * *hour + *minute);
}

std::string clock_text(minutes time) {
  const auto minute = time.count() % 60;
  return std::to_string(time.count() / 60) + (minute < 10 ? ":0" : ":") + std::to_string(minute);
}

std::optional<int> looks_in_a_row(const std::string& advance_when) {
  constexpr const char* kNumbers[] = {"", "one", "two", "three", "four", "five", "six"};
  const Words words = words_of(advance_when);
  for (std::size_t i = 1; i < words.size(); ++i) {
    if (!bare(words[i]).starts_with("look")) continue;
    if (const auto digits = whole(words[i - 1])) return digits;
    for (int number = 1; number < int(std::size(kNumbers)); ++number) {
      if (words[i - 1] == kNumbers[number]) return number;
    }
  }
  return std::nullopt;
}

}  // namespace takehold::daemon
