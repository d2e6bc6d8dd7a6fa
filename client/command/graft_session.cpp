// Pair after pair at the grafting bench, as written on the sheet.
#include <fmt/format.h>

#include <charconv>

#include "client/command/graft.hpp"
#include "client/command/session.hpp"
#include "client/terminal/numbers.hpp"

namespace takehold::client {
namespace {

constexpr const char* kHelp =
    "Each pair as R7-S3: rootstock 7, scion 3; several on a line will do. u takes back the last,\n"
    "Enter ends. A bare number is a count, where nobody noted the seedlings.";

std::optional<int> bare_number(const std::string& text) {
  int number = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (error != std::errc() || end != text.data() + text.size()) return std::nullopt;
  return number;
}

std::string last_text(const std::vector<SeedlingPair>& pairs) {
  return pairs.back().rootstock + " under " + pairs.back().scion;
}

}  // namespace

GraftOrder ask_for_pairs(Context& context, const Telling& telling, GraftOrder order) {
  Dialogue dialogue(context);
  dialogue.say(kHelp);
  while (true) {
    const std::string answer = dialogue.ask(fmt::format("pair {}: ", order.pairs.size() + 1));
    if (answer.empty() || answer == "q") return order;
    if (answer == "u") {
      dialogue.say(order.pairs.empty() ? "nothing to take back"
                                       : "taken back: " + last_text(order.pairs));
      if (!order.pairs.empty()) order.pairs.pop_back();
      continue;
    }
    try {
      GraftOrder more = order;
      const auto count = order.pairs.empty() ? bare_number(answer) : std::nullopt;
      if (count) {
        more.count = count;
        draft_graft(telling, more);
        return more;
      }
      const auto pairs = parse_pairs(answer, "pair");
      more.pairs.insert(more.pairs.end(), pairs.begin(), pairs.end());
      draft_graft(telling, more);
      order = std::move(more);
    } catch (const sensors::Refused& refused) {
      dialogue.say(refused.problem().sentence());
    }
  }
}

}  // namespace takehold::client
