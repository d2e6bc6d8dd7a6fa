#include "client/command/session.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <istream>

#include "client/command/tasks.hpp"

namespace takehold::client {

void Dialogue::say(const std::string& text) {
  if (!text.empty()) context_.out.line(text);
}

std::string Dialogue::ask(const std::string& question) {
  context_.out.text(question);
  std::string line;
  if (!std::getline(context_.in, line)) {
    at_end_ = true;
    context_.out.line();
    return "q";
  }
  const auto first = line.find_first_not_of(" \t\r");
  if (first == std::string::npos) return "";
  return line.substr(first, line.find_last_not_of(" \t\r") - first + 1);
}

bool is_dialogue(const Context& context) {
  return context.at_terminal && !context.out.is_json();
}

std::string sowing_text(const SowingState& state) {
  return fmt::format("{}, {} ({}), {}", state.sowing.id, state.sowing.lot, state.variety,
                     state.standing ? fmt::format("{} standing", *state.standing)
                                    : fmt::format("{} sown, not counted yet", state.sowing.seeds));
}

std::vector<std::string> sowings_to_offer(const Book& book, sensors::Instant now,
                                          const std::string& what) {
  std::vector<std::string> offered;
  for (const Task& task : tasks_at(book, now)) {
    if (task.what == what) offered.push_back(task.about);
  }
  for (const Sowing& sowing : book.all<Sowing>()) {
    const bool listed = std::find(offered.begin(), offered.end(), sowing.id) != offered.end();
    const SowingState state = state_of(book, sowing);
    const bool all_up = what == "count" && state.standing.value_or(0) >= sowing.seeds;
    const bool none_stand = state.standing == 0 || state.grafted >= sowing.seeds;
    const bool not_up = what == "measure" && !state.standing;
    if (!listed && !all_up && !none_stand && !not_up) offered.push_back(sowing.id);
  }
  return offered;
}

bool SessionRecords::take_back(Dialogue& dialogue, const Telling& telling) {
  if (commands_.empty()) {
    dialogue.say("nothing to take back: nothing was recorded just now");
    return false;
  }
  const Undone undone = telling.book.undo(telling.now, commands_.back());
  commands_.pop_back();
  dialogue.say("taken back: " + undone.command.words);
  return true;
}

}  // namespace takehold::client
