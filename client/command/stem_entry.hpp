// Stems typed one after the other by wet hands, or by a calliper that types digits and Enter.
//
// Logic only: a line in, what to say out. The number asked for goes on by itself; "5=2.3" goes to
// seedling 5, "-" leaves one out, "u" takes back the last, an empty line ends the sowing, "q" the
// whole session. A number that is probably a slip is asked about: Enter takes what was proposed.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "client/season/sowing.hpp"
#include "client/season/words.hpp"

namespace takehold::client {

/// A stem this many times thicker or thinner than the middle one of its sowing is asked about.
inline constexpr double kFarFromOthers = 1.6;

class StemEntry {
 public:
  /// Bare numbers are in `units`.
  StemEntry(const Sowing& sowing, std::optional<int> standing, Units units)
      : sowing_(sowing.id), seeds_(sowing.seeds), standing_(standing), units_(units) {}

  /// "S1-3: "
  std::string prompt() const;
  /// Takes one line; gives what to say about it, or nothing.
  std::string take(std::string_view line);
  /// The sowing is done; what was typed is in stems().
  bool has_ended() const { return ended_; }
  /// "q" was typed: nothing more is to be asked.
  bool wants_out() const { return out_; }
  const std::vector<Stem>& stems() const { return stems_; }

 private:
  std::string take_word(std::string_view word);
  std::string take_back();
  std::string take_stem(Stem stem);
  std::string add(Stem stem);
  std::optional<Millimetres> middle() const;

  std::string sowing_;
  int seeds_;
  std::optional<int> standing_;
  Units units_;
  std::vector<Stem> stems_{};
  int next_ = 1;
  std::optional<Stem> proposed_{};  ///< what Enter takes
  bool ended_ = false;
  bool out_ = false;
};

}  // namespace takehold::client
