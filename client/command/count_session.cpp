// How many stand, sowing after sowing.
#include <fmt/format.h>

#include <charconv>

#include "client/command/outcomes.hpp"
#include "client/command/seedlings.hpp"
#include "client/command/session.hpp"
#include "client/season/words.hpp"
#include "client/terminal/text_width.hpp"

namespace takehold::client {

namespace {

constexpr const char* kHelp =
    "How many stand, as a total. Enter goes on to the next, u takes back the last, q ends.";

std::optional<int> number_in(const std::string& text) {
  int number = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (error != std::errc() || end != text.data() + text.size()) return std::nullopt;
  return number;
}

class CountSession {
 public:
  CountSession(Context& context, const Telling& telling)
      : telling_(telling), dialogue_(context), width_(context.out.style().width) {}

  int run() {
    dialogue_.say(wrapped(kHelp, width_));
    const auto offers = sowings_to_offer(telling_.book, telling_.now, "count");
    if (offers.empty()) dialogue_.say("No sowing wants counting.");
    while (!out_ && !offers.empty()) {
      if (at_ < offers.size()) {
        ask_for(*telling_.book.find<Sowing>(offers[at_]));
      } else {
        ask_to_end();
      }
    }
    return records_.count();
  }

 private:
  void ask_for(const Sowing& sowing) {
    const SowingState state = state_of(telling_.book, sowing);
    const std::string answer = dialogue_.ask(sowing_text(state) + ". Standing now: ");
    if (answer == "q") {
      out_ = true;
    } else if (answer.empty()) {
      ++at_;
    } else if (answer == "u") {
      if (records_.take_back(dialogue_, telling_) && at_ > 0) --at_;
    } else if (const auto count = number_in(answer)) {
      record(state, *count);
    } else {
      dialogue_.say("\"" + answer + "\" is no number");
    }
  }

  /// The last count can be taken back as every other.
  void ask_to_end() {
    const std::string answer = dialogue_.ask("That was the last. Enter ends, u takes it back: ");
    if (answer != "u") {
      out_ = true;
    } else if (records_.take_back(dialogue_, telling_)) {
      --at_;
    }
  }

  void record(const SowingState& state, int count) {
    const std::string& id = state.sowing.id;
    try {
      if (state.standing && count >= 0 && count < *state.standing) {
        record_loss(state, *state.standing - count);
      } else {
        emerged(telling_, id, count);
        dialogue_.say(fmt::format("{}: {} standing", id, count));
        records_.add(telling_.book);
        ++at_;
      }
    } catch (const sensors::Refused& refused) {
      dialogue_.say(refused.problem().sentence());
    }
  }

  /// Fewer than before: the difference has a cause, or the count was a slip.
  void record_loss(const SowingState& state, int gone) {
    const std::string answer = dialogue_.ask(
        fmt::format("{} fewer than before. Of what did they die? ({}; Enter: that was a slip) ",
                    gone, choices<Cause>()));
    if (answer.empty() || answer == "q" || answer == "u") {
      return dialogue_.say("nothing recorded; type the count again");
    }
    const auto cause = from_text<Cause>(answer);
    if (!cause) return dialogue_.say("\"" + answer + "\" is no cause known here; nothing recorded");
    lose(telling_, state.sowing.id, {gone, {}}, *cause);
    dialogue_.say(fmt::format("{}: {} lost, {}", state.sowing.id, gone, to_text(*cause)));
    records_.add(telling_.book);
    ++at_;
  }

  const Telling& telling_;
  Dialogue dialogue_;
  int width_;
  std::size_t at_ = 0;
  SessionRecords records_{};
  bool out_ = false;
};

}  // namespace

int count_session(Context& context, const Telling& telling) {
  return CountSession(context, telling).run();
}

}  // namespace takehold::client
