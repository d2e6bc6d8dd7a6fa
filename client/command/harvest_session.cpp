#include "client/command/harvest_session.hpp"

#include <cctype>

#include "client/command/grown.hpp"
#include "client/command/picking_text.hpp"
#include "client/command/session.hpp"

namespace takehold::client {
namespace {

constexpr const char* kHelp =
    "What it is from, then weights: G3 12.4 for all together, G3 3=1.25 for plant 3, /14 behind it "
    "for\n14 fruits. G3 stays until you name another. u takes back the last, Enter or q ends.";

/// "G3, Quarry Pink, grafted, 6 plants"
std::string plants_text(const GrownPlants& plants) {
  return plants.subject + ", " + plants.variety + (plants.grafted ? ", grafted" : ", own roots") +
         ", " + counted(plants.living, "plant", "plants");
}

class HarvestSession {
 public:
  HarvestSession(Context& context, const Telling& telling)
      : context_(context), telling_(telling), dialogue_(context) {}

  void run(const std::string& from) {
    dialogue_.say(kHelp);
    list_subjects();
    if (!from.empty()) turn_to(from);
    while (true) {
      const std::string answer = dialogue_.ask(from_.empty() ? "picked: " : from_ + ": ");
      if (answer == "q" || answer.empty()) return;
      if (answer == "u") {
        records_.take_back(dialogue_, telling_);
      } else {
        take(answer);
      }
    }
  }

 private:
  void list_subjects() {
    std::vector<std::string> seen;
    for (const SetOut& planted : telling_.book.all<SetOut>()) {
      if (std::find(seen.begin(), seen.end(), planted.subject) != seen.end()) continue;
      seen.push_back(planted.subject);
      const GrownPlants plants = grown_plants(telling_.book, planted.subject);
      if (plants.living <= 0) continue;
      dialogue_.say("  " + plants_text(plants) + (planted.bed.empty() ? "" : ", " + planted.bed));
    }
  }

  void turn_to(const std::string& from) {
    try {
      const auto kind = kind_of_key(from);
      const bool numbered = kind == Kind::batch || kind == Kind::sowing;
      from_ = numbered ? grown_plants(telling_.book, from).subject : typed_bed(telling_.book, from);
    } catch (const sensors::Refused& refused) {
      dialogue_.say(refused.problem().sentence());
    }
  }

  void take(const std::string& answer) {
    const bool bare =
        answer.find_first_of("0123456789") == std::string::npos || kind_of_key(answer).has_value();
    if (bare) return turn_to(answer);
    try {
      auto pickings = pickings_of_line(answer, context_.units, answer);
      if (pickings.front().from.empty()) {
        for (Picking& picking : pickings) picking.from = from_;
      } else {
        turn_to(pickings.front().from);
      }
      if (from_.empty()) return dialogue_.say("of what? as G3 1.25");
      const auto records = harvest(telling_, pickings, "harvest " + from_ + " " + answer);
      records_.add(telling_.book);
      std::string text = harvest_text(records, context_.units);
      dialogue_.say(text.substr(0, text.size() - 1));
    } catch (const sensors::Refused& refused) {
      dialogue_.say(refused.problem().sentence());
    }
  }

  Context& context_;
  const Telling& telling_;
  Dialogue dialogue_;
  SessionRecords records_{};
  std::string from_{};
};

}  // namespace

void harvest_session(Context& context, const Telling& telling, std::string from) {
  HarvestSession(context, telling).run(from);
}

}  // namespace takehold::client
