// Recording sowing after sowing at the terminal: what measure and emerged ask when nothing is
// typed.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "client/command/recording.hpp"
#include "client/command/standing.hpp"

namespace takehold::client {

/// Asks and listens. The end of the input counts as "q".
class Dialogue {
 public:
  explicit Dialogue(Context& context) : context_(context) {}
  void say(const std::string& text);
  /// The answer without blanks around it.
  std::string ask(const std::string& question);
  bool at_end() const { return at_end_; }

 private:
  Context& context_;
  bool at_end_ = false;
};

/// A person types, and reads what is asked: neither a pipe nor --json.
bool is_dialogue(const Context& context);

/// "S1, QP-24 (Quarry Pink), 8 standing"
std::string sowing_text(const SowingState& state);

/// The sowings that `today` wants counted or measured (`what`, as Task::what), then the others that
/// still stand about.
std::vector<std::string> sowings_to_offer(const Book& book, sensors::Instant now,
                                          const std::string& what);

/// What one session recorded, so that `u` takes back its last and never what was told before it.
class SessionRecords {
 public:
  /// The book's newest command is the session's.
  void add(const Book& book) { commands_.push_back(book.commands().front().id); }
  /// False: nothing of the session is left to take back; both are said.
  bool take_back(Dialogue& dialogue, const Telling& telling);
  int count() const { return static_cast<int>(commands_.size()); }

 private:
  std::vector<CommandId> commands_{};
};

/// Asks for the stems of one sowing after the other; of `only` that one if it is given. Every
/// sowing is recorded when it ends. Gives how many records were made.
int measure_session(Context& context, const Telling& telling,
                    const std::optional<std::string>& only);

/// Asks how many stand, sowing after sowing; fewer than before asks what became of the others.
int count_session(Context& context, const Telling& telling);

}  // namespace takehold::client
