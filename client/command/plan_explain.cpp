#include "client/command/plan_explain.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <nlohmann/json.hpp>

#include "client/command/plan_text.hpp"
#include "client/terminal/numbers.hpp"
#include "client/terminal/text_width.hpp"

namespace takehold::client {
namespace {

using nlohmann::json;

constexpr double kChartFrom = 1.0, kChartTo = 3.2;  // mm, whatever is graftable in between
constexpr int kBarWidth = 40;

std::string word_for(const std::string& what) {
  if (what == "viability") return "Share alive";
  if (what == "emergence") return "Days to come up, against the table,";
  if (what == "vigour") return "Thickening, against an average tomato,";
  return "Share that takes";
}

std::string lower(std::string_view text) {
  std::string folded(text);
  for (char& c : folded) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return folded;
}

bool begins(const std::string& name, std::string_view typed) {
  return lower(name).starts_with(lower(typed));
}

bool is_meant(const PlannedPairing& pairing, std::string_view typed) {
  if (!pairing.id.empty() && lower(pairing.id) == lower(typed)) return true;
  const std::size_t slash = typed.find('/');
  if (slash == std::string_view::npos) return false;
  return begins(pairing.scion, typed.substr(0, slash)) &&
         begins(pairing.rootstock, typed.substr(slash + 1));
}

// The numbers of this pairing and of the lots it is sown from, each with where it comes from.
std::vector<std::string> numbers_under(const SeasonPlan& plan, const PlannedPairing& pairing) {
  const auto concerns = [&](const std::string& about) {
    const auto is_of = [&](const std::vector<ProposedSowing>& sowings) {
      return std::any_of(sowings.begin(), sowings.end(), [&](const ProposedSowing& sowing) {
        return sowing.lot.value_or(sowing.variety) == about;
      });
    };
    return about == pairing.id || about == pairing.scion + "/" + pairing.rootstock ||
           is_of(pairing.rootstock_sowings) || is_of(pairing.scion_sowings);
  };
  std::vector<std::string> list;
  for (const PlanNumber& number : plan.rests_on) {
    if (!number.p05 || !number.p95 || !concerns(number.about)) continue;
    const bool is_own = number.from == NumberFrom::own_record;
    list.push_back(fmt::format("{} of {}: {:.2f}, 9 in 10 between {:.2f} and {:.2f}. {}{}.",
                               word_for(number.what), number.about, number.value, *number.p05,
                               *number.p95, is_own ? "Own record: " : "", number.text));
  }
  return list;
}

std::vector<std::string> reasons(const PlanRequest& request, const SeasonPlan& plan,
                                 const PlannedPairing& pairing) {
  std::vector<std::string> list;
  list.push_back(fmt::format(
      "Grafted on {}: {} days of healing and hardening before the plants shall be ready; the best "
      "day within {} of it is taken.",
      sensors::to_string(*pairing.graft_on),
      std::chrono::ceil<std::chrono::days>(request.regime_length).count(),
      counted(request.season.window_days, "day", "days")));
  if (pairing.offset_days) {
    list.push_back(fmt::format(
        "Rootstock {}: of all days free for sowing, these two make the most pairs of graftable "
        "stems, and middle stems nearest to equal.",
        *pairing.offset_days == 0 ? std::string("sown with the scion")
                                  : counted(std::abs(*pairing.offset_days), "day", "days") +
                                        (*pairing.offset_days > 0 ? " first" : " later")));
  }
  list.push_back(fmt::format(
      "At most {}: with fewer, too few would take in 1 of {:.0f} seasons; with more, cost rises.",
      counted(pairing.grafts, "graft", "grafts"),
      1 / std::max(0.001, 1 - request.season.confidence)));
  if (pairing.limited_by)
    list.push_back("Held back most by " + words_for(*pairing.limited_by) + ".");
  for (std::string& number : numbers_under(plan, pairing)) list.push_back(std::move(number));
  return list;
}

// Both bands of a day on one line: r and s where the middle stems are, - between 10 and 90 in 100.
std::string band_line(const ExplainedDay& day) {
  std::string line(kBarWidth, ' ');
  const auto place = [](double mm) {
    const double share = (mm - kChartFrom) / (kChartTo - kChartFrom);
    return static_cast<std::size_t>(std::clamp(share, 0.0, 1.0) * (kBarWidth - 1));
  };
  for (const auto& [band, sign] : {std::pair{&day.rootstock, '-'}, {&day.scion, '.'}}) {
    if (!*band) continue;
    for (std::size_t x = place((*band)->p10_mm); x <= place((*band)->p90_mm); ++x) {
      line[x] = line[x] == ' ' || line[x] == sign ? sign : '=';
    }
  }
  if (day.rootstock) line[place(day.rootstock->p50_mm)] = 'r';
  if (day.scion) {
    char& middle = line[place(day.scion->p50_mm)];
    middle = middle == 'r' ? '#' : 's';
  }
  return line;
}

std::string end_of_scale(double mm, Units units) {
  return shown(sensors::Millimetres::mm(mm), units, units == Units::us ? 2 : 1);
}

std::string bands_text(const PlannedPairing& pairing, const Explanation& told,
                       const TerminalStyle& style) {
  std::string text =
      fmt::format("{:>10}  {:<{}}{:>8}  pairs\n", "", end_of_scale(kChartFrom, style.units),
                  kBarWidth - 8, end_of_scale(kChartTo, style.units));
  for (const ExplainedDay& day : told.days) {
    text += fmt::format("{}  {}  {:5.1f}{}\n", sensors::to_string(day.on), band_line(day),
                        day.pairs, day.on == *pairing.graft_on ? "  graft" : "");
  }
  return text +
         wrapped(
             "r middle rootstock, s middle scion (# both); -, . and =: 80 in 100 of the stems, "
             "rootstock, scion, both; pairs: if grafted on that day alone",
             style.width) +
         "\n";
}

std::string seed_bars(const Explanation& told) {
  std::string text;
  for (const SeedChance& point : told.by_seed) {
    const auto width = static_cast<std::size_t>(point.probability * kBarWidth + 0.5);
    text += fmt::format("{:4} rootstock seeds  {:<{}}  {}\n", point.rootstock_seeds,
                        std::string(width, '*'), kBarWidth, chance(point.probability));
  }
  return text;
}

json band_json(const std::optional<StemBand>& band) {
  if (!band) return nullptr;
  return {{"p10", band->p10_mm}, {"p50", band->p50_mm}, {"p90", band->p90_mm}};
}

}  // namespace

const PlannedPairing& pairing_in(const SeasonPlan& plan, std::string_view typed) {
  std::vector<const PlannedPairing*> found;
  for (const PlannedPairing& pairing : plan.pairings) {
    if (is_meant(pairing, typed)) found.push_back(&pairing);
  }
  if (found.size() == 1) return *found.front();
  std::string names;
  for (const PlannedPairing& pairing : plan.pairings) {
    names += (names.empty() ? "" : ", ") + pairing.scion + "/" + pairing.rootstock;
  }
  throw sensors::Refused({found.empty() ? "not-there" : "ambiguous",
                          fmt::format("{} of the plan's pairings is \"{}\"",
                                      found.empty() ? "none" : "more than one", typed),
                          names, std::string(typed), "type P3, or \"Scion/Rootstock\""});
}

std::string explanation_text(const PlanRequest& request, const SeasonPlan& plan,
                             const PlannedPairing& pairing, const Explanation& told,
                             const TerminalStyle& style) {
  std::string text = pairing.scion + "/" + pairing.rootstock + "\n";
  if (!pairing.graft_on) return text + "No day was found on which both stems can be grafted.\n";
  for (const std::string& reason : reasons(request, plan, pairing)) {
    text += wrapped("- " + reason, style.width) + "\n";
  }
  if (told.days.empty()) return text;
  text += "\n" + bands_text(pairing, told, style);
  return text + "\n" +
         wrapped(
             "Chance with other numbers of rootstock seeds, the rest as planned, no stems "
             "shared:",
             style.width) +
         "\n" + seed_bars(told);
}

json explanation_json(const PlanRequest& request, const SeasonPlan& plan,
                      const PlannedPairing& pairing, const Explanation& told) {
  json days = json::array(), by_seed = json::array();
  for (const ExplainedDay& day : told.days) {
    days.push_back({{"on", sensors::to_string(day.on)},
                    {"rootstock_mm", band_json(day.rootstock)},
                    {"scion_mm", band_json(day.scion)},
                    {"matched_pairs", day.pairs}});
  }
  for (const SeedChance& point : told.by_seed) {
    by_seed.push_back(
        {{"rootstock_seeds", point.rootstock_seeds}, {"probability", point.probability}});
  }
  json words = json::array();
  if (pairing.graft_on) {
    for (const std::string& reason : reasons(request, plan, pairing)) words.push_back(reason);
  }
  return {{"pairing", pairing.id.empty() ? json() : json(pairing.id)},
          {"scion", pairing.scion},
          {"rootstock", pairing.rootstock},
          {"days", days},
          {"by_seed", by_seed},
          {"reasons", words}};
}

}  // namespace takehold::client
