// Stems, sowing after sowing.
#include <fmt/format.h>

#include "client/command/seedlings.hpp"
#include "client/command/session.hpp"
#include "client/command/stem_entry.hpp"
#include "client/terminal/text_width.hpp"

namespace takehold::client {

namespace {

constexpr const char* kHelp =
    "One diameter and Enter, in tray order. 5=2.3 is seedling 5, - leaves one out, u takes back "
    "the "
    "last, an empty line ends the sowing, q ends.";

/// The stems as `measure` takes them typed: "1=2.1 2=2".
std::string typed_text(const std::vector<Stem>& stems) {
  std::string text;
  for (const Stem& stem : stems) {
    text += fmt::format("{}{}={:g}mm", text.empty() ? "" : " ", stem.number, stem.diameter.mm());
  }
  return text;
}

class MeasureSession {
 public:
  MeasureSession(Context& context, const Telling& telling)
      : context_(context), telling_(telling), dialogue_(context) {}

  int run(const std::optional<std::string>& only) {
    dialogue_.say(wrapped(kHelp, context_.out.style().width));
    if (only) {
      measure_one(find_numbered<Sowing>(telling_.book, *only));
      return records_.count();
    }
    offers_ = sowings_to_offer(telling_.book, telling_.now, "measure");
    while (!out_) choose();
    return records_.count();
  }

 private:
  void choose() {
    std::optional<SowingState> next;
    if (at_ < offers_.size()) next = state_of(telling_.book, *sowing(offers_[at_]));
    const auto answer =
        dialogue_.ask(next ? "Next " + sowing_text(*next) + ". Enter, or another (q ends): "
                           : std::string("That was the last. Another sowing, or Enter to end: "));
    if (answer == "q" || (answer.empty() && !next)) {
      out_ = true;
    } else if (answer == "u") {
      if (records_.take_back(dialogue_, telling_) && at_ > 0) --at_;
    } else if (answer.empty()) {
      ++at_;
      measure_one(next->sowing);
    } else {
      measure_named(answer);
    }
  }

  std::optional<Sowing> sowing(const std::string& id) const {
    return telling_.book.find<Sowing>(id);
  }

  void measure_named(const std::string& typed) {
    try {
      measure_one(find_numbered<Sowing>(telling_.book, typed));
    } catch (const sensors::Refused& refused) {
      dialogue_.say(refused.problem().sentence());
    }
  }

  void measure_one(const Sowing& sowing) {
    const SowingState state = state_of(telling_.book, sowing);
    dialogue_.say(sowing_text(state));
    StemEntry entry(sowing, state.standing, context_.units);
    while (!entry.has_ended()) dialogue_.say(entry.take(dialogue_.ask(entry.prompt())));
    out_ = entry.wants_out();
    if (entry.stems().empty()) return dialogue_.say(sowing.id + ": nothing recorded");
    const Measurement record =
        measure(telling_, sowing.id, typed_text(entry.stems()), Units::metric);
    records_.add(telling_.book);
    dialogue_.say(measurement_text(record, context_.units));
  }

  Context& context_;
  const Telling& telling_;
  Dialogue dialogue_;
  std::vector<std::string> offers_{};
  std::size_t at_ = 0;
  SessionRecords records_{};
  bool out_ = false;
};

}  // namespace

int measure_session(Context& context, const Telling& telling,
                    const std::optional<std::string>& only) {
  return MeasureSession(context, telling).run(only);
}

}  // namespace takehold::client
