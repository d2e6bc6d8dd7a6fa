#include "client/command/plan_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "client/command/buy_text.hpp"
#include "client/command/rests_on_text.hpp"
#include "client/terminal/days.hpp"
#include "client/terminal/numbers.hpp"
#include "client/terminal/table.hpp"
#include "client/terminal/text_width.hpp"

namespace takehold::client {
namespace {

const PlannedPairing* pairing_for(const std::string& purpose, const SeasonPlan& plan) {
  const auto is_it = [&](const PlannedPairing& p) {
    return p.id.empty() ? p.scion + "/" + p.rootstock == purpose : p.id == purpose;
  };
  const auto found = std::find_if(plan.pairings.begin(), plan.pairings.end(), is_it);
  return found == plan.pairings.end() ? nullptr : &*found;
}

/// "scion, P3 on Ironfoot", "rootstock of P1, P3": with the pairing's number where it has one.
std::string purpose_text(const SowingLine& line, const SeasonPlan& plan) {
  if (line.side == Side::own_root) return "own roots";
  const bool is_scion = line.side == Side::scion;
  if (!is_scion && line.purposes.size() > 1) {
    std::string ids;
    for (const std::string& purpose : line.purposes) {
      const auto* pairing = pairing_for(purpose, plan);
      if (pairing == nullptr || pairing->id.empty()) {
        return fmt::format("rootstock of {} pairings", line.purposes.size());
      }
      ids += (ids.empty() ? "" : ", ") + pairing->id;
    }
    return "rootstock of " + ids;
  }
  std::string text;
  for (const std::string& purpose : line.purposes) {
    const auto* pairing = pairing_for(purpose, plan);
    const std::string other = pairing == nullptr ? purpose
                              : is_scion         ? "on " + pairing->rootstock
                                                 : "under " + pairing->scion;
    const bool is_numbered = pairing != nullptr && !pairing->id.empty();
    text += (text.empty() ? "" : "; ") + (is_numbered ? pairing->id + " " : "") + other;
  }
  return (is_scion ? "scion, " : "rootstock, ") + text;
}

std::string sowings_text(const SeasonPlan& plan, const TerminalStyle& style) {
  Table table({{"sow on", Align::right},
               {"lot"},
               {"variety"},
               {"seeds", Align::right},
               {"cells", Align::right},
               {"for"}});
  for (const SowingLine& line : plan.sowings) {
    table.add({shown_with_weekday(line.sow_on, style.dates), line.lot.value_or("to buy"),
               line.variety, std::to_string(line.seeds), std::to_string(line.cells),
               purpose_text(line, plan)});
  }
  return table.text(style);
}

/// For a narrow column; words_for tells it whole.
std::string in_a_word(LimitedBy limit) {
  switch (limit) {
    case LimitedBy::emergence:
      return "emergence";
    case LimitedBy::spread:
      return "uneven";
    case LimitedBy::mismatch:
      return "matching";
    case LimitedBy::take:
      return "takes";
    case LimitedBy::seed:
      return "seed";
  }
  return "";
}

std::string pairings_text(const SeasonPlan& plan, const TerminalStyle& style) {
  Table table({{"pairing"},
               {"want", Align::right},
               {"graft on", Align::right},
               {"grafts", Align::right},
               {"chance", Align::right},
               {"root first", Align::right},
               {"weakest"}});
  for (const PlannedPairing& pairing : plan.pairings) {
    const std::string name =
        (pairing.id.empty() ? "" : pairing.id + " ") + pairing.scion + "/" + pairing.rootstock;
    table.add({name, std::to_string(pairing.want),
               pairing.graft_on ? shown_with_weekday(*pairing.graft_on, style.dates) : "cannot be",
               std::to_string(pairing.grafts), chance(pairing.probability),
               pairing.offset_days ? counted(*pairing.offset_days, "day", "days") : "",
               pairing.limited_by ? in_a_word(*pairing.limited_by) : ""});
  }
  return table.text(style);
}

std::string shared_text(const SeasonPlan& plan, const TerminalStyle& style) {
  std::string text;
  for (const SharedSowing& shared : plan.shared) {
    text += wrapped(fmt::format("One sowing of {} serves {} together: {} seeds, where each for "
                                "itself would take {}. On the day, match all their stems at once.",
                                shared.lot.value_or(shared.variety),
                                counted(static_cast<long long>(shared.pairings.size()), "pairing",
                                        "pairings"),
                                shared.seeds, shared.seeds_apart),
                    style.width) +
            "\n";
  }
  return text;
}

std::string own_root_text(const SeasonPlan& plan, const TerminalStyle& style) {
  Table table({{"on own roots"}, {"want", Align::right}, {"sow on"}, {"chance"}});
  for (const PlannedOwnRoot& plant : plan.own_root) {
    table.add({plant.variety, std::to_string(plant.want),
               plant.sow_on ? shown_with_weekday(*plant.sow_on, style.dates) : "cannot be",
               chance(plant.probability)});
  }
  return table.text(style);
}

std::string seed_text(const SeasonPlan& plan, const TerminalStyle& style) {
  Table table({{"short of seed"},
               {"on hand", Align::right},
               {"needed", Align::right},
               {"short", Align::right}});
  for (const SeedBalance& seed : plan.seeds) {
    if (seed.short_by <= 0) continue;
    table.add({seed.lot, std::to_string(seed.on_hand), std::to_string(seed.needed),
               std::to_string(seed.short_by)});
  }
  return table.text(style);
}

std::string warnings_text(const SeasonPlan& plan, const TerminalStyle& style) {
  std::string text;
  for (const PlanNote& note : plan.warnings) {
    const std::string about = note.about.empty() ? "" : note.about + ": ";
    text += wrapped("- " + about + note.text, style.width) + "\n";
  }
  return text.empty() ? text : "To know:\n" + text;
}

}  // namespace

std::string words_for(LimitedBy limit) {
  switch (limit) {
    case LimitedBy::emergence:
      return "seed that does not come up";
    case LimitedBy::spread:
      return "seedlings of unequal size";
    case LimitedBy::mismatch:
      return "stems that do not match";
    case LimitedBy::take:
      return "grafts that do not take";
    case LimitedBy::seed:
      return "too little seed";
  }
  return "";
}

std::string plan_text(const SeasonPlan& plan, const TerminalStyle& style) {
  std::string text =
      fmt::format("Plan for plants ready on {}, wanted with a chance of {}.\n",
                  shown_with_weekday(plan.ready_on, style.dates), chance(plan.confidence));
  for (const std::string& part :
       {sowings_text(plan, style), pairings_text(plan, style), shared_text(plan, style),
        own_root_text(plan, style), seed_text(plan, style), buy_text(plan, style),
        rests_on_text(plan, style), warnings_text(plan, style)}) {
    if (!part.empty()) text += "\n" + part;
  }
  return text;
}

}  // namespace takehold::client
