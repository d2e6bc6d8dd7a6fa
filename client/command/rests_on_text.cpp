#include "client/command/rests_on_text.hpp"

#include <fmt/format.h>

#include <map>
#include <vector>

#include "client/terminal/numbers.hpp"
#include "client/terminal/table.hpp"
#include "client/terminal/text_width.hpp"

namespace takehold::client {
namespace {

std::string marked(const std::string& value, const PlanNumber& number) {
  return value + (number.from == NumberFrom::own_record ? " own" : " assumed");
}

std::string more_or_less(const PlanNumber& number) {
  return marked(fmt::format("{:+.0f} %", 100 * (number.value - 1)), number);
}

struct LotRow {
  std::string lot, alive, emergence, vigour;
};

std::vector<LotRow> rows_of(const SeasonPlan& plan) {
  std::vector<LotRow> rows;
  for (const PlanNumber& number : plan.rests_on) {
    if (number.what == "viability") {
      rows.push_back({number.about, marked(chance(number.value), number), "", ""});
    } else if (number.what == "emergence") {
      rows.back().emergence = more_or_less(number);
    } else if (number.what == "vigour") {
      rows.back().vigour = more_or_less(number);
    }
  }
  return rows;
}

std::string takes_text(const SeasonPlan& plan, const TerminalStyle& style) {
  std::map<std::string, std::string> pairings;  // by what is said of them
  for (const PlanNumber& number : plan.rests_on) {
    if (number.what != "take") continue;
    std::string& names =
        pairings[fmt::format("{:.0f} % take, {}", 100 * number.value, number.text)];
    names += (names.empty() ? "" : ", ") + number.about;
  }
  std::string text;
  for (const auto& [said, names] : pairings) {
    text += wrapped(names + ": " + said + ".", style.width) + "\n";
  }
  return text;
}

}  // namespace

std::string rests_on_text(const SeasonPlan& plan, const TerminalStyle& style) {
  Table table({{"rests on lot"}, {"alive"}, {"days to come up"}, {"thickening"}});
  for (const LotRow& row : rows_of(plan)) {
    table.add({row.lot, row.alive, row.emergence, row.vigour});
  }
  if (table.is_empty()) return takes_text(plan, style);
  return table.text(style) +
         wrapped(
             "Against the published table and an average tomato. own: from your tests, counts "
             "and measurements; assumed: from none yet.",
             style.width) +
         "\n" + takes_text(plan, style);
}

}  // namespace takehold::client
