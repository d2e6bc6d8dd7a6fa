#include "client/match/joining.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>

namespace takehold::client {
namespace {

constexpr double kMiFades = 28;       // degC of soil
constexpr double kMiIsLost = 32;      // degC for 48 h
constexpr double kMiIsLostSoon = 35;  // degC for 3 h
constexpr int kFewPlants = 3;         // common practice

bool has_tm_2(TmvGenes genes) {
  return genes == TmvGenes::tm_2 || genes == TmvGenes::tm_2_2;
}

std::optional<JoiningNote> virus_note(const Variety& scion, const Variety& rootstock) {
  const TmvGenes above = scion.tmv_genes, below = rootstock.tmv_genes;
  JoiningNote note{"", rootstock.name, "", fmt::format("{} ({})", scion.name, to_text(above)),
                   fmt::format(" on {} ({})", rootstock.name, to_text(below))};
  if (has_tm_2(below) && (above == TmvGenes::none || above == TmvGenes::tm_1)) {
    note.code = "virus-genes";
    note.after +=
        ": the genes against tobacco mosaic virus do not agree; if such a plant is infected it "
        "wilts and dies. A rootstock with Tm-1, or one without these genes, is safer";
    return note;
  }
  const bool may_clash = has_tm_2(below) || below == TmvGenes::unknown;
  const bool is_open = above == TmvGenes::unknown || below == TmvGenes::unknown;
  if (!may_clash || !is_open || has_tm_2(above)) return std::nullopt;
  note.code = "virus-genes-unknown";
  note.after +=
      ": whether the genes against tobacco mosaic virus agree is not known; where they do not, an "
      "infected plant wilts and dies";
  return note;
}

constexpr const char* kRootKnot[] = {"Ma", "Mi", "Mj"};

bool resists_root_knot(const Resistances& resistances) {
  return std::any_of(std::begin(kRootKnot), std::end(kRootKnot),
                     [&](const char* code) { return resistances.against(code).has_value(); });
}

bool has_root_knot(const Bed& bed) {
  return std::any_of(bed.troubles.begin(), bed.troubles.end(), [](const std::string& trouble) {
    return std::find(std::begin(kRootKnot), std::end(kRootKnot), trouble) != std::end(kRootKnot);
  });
}

std::string heat_text(double peak) {
  if (peak >= kMiIsLostSoon) return "it is lost after 3 h at 35 degC";
  if (peak >= kMiIsLost) return "it is lost after 48 h at 32 degC";
  return "it fades above 28 degC, and is lost after 48 h at 32 or 3 h at 35";
}

void note_heat(const Variety& rootstock, const Resistances& below, const Bed& bed,
               Joining& joining) {
  if (!resists_root_knot(below)) return;
  const std::string before = "resistance of ";
  if (bed.soil_peak && bed.soil_peak->degc() > kMiFades) {
    joining.notes.push_back(
        {"mi-heat", bed.name, before, rootstock.name,
         fmt::format(" to root knot (gene Mi) does not last in the heat of the {}, whose soil "
                     "reaches {:.0f} degC: {}. Mulch or shade",
                     bed.name, bed.soil_peak->degc(), heat_text(bed.soil_peak->degc()))});
  } else if (!bed.soil_peak && has_root_knot(bed)) {
    joining.notes.push_back(
        {"mi-heat-unknown", bed.name, before, rootstock.name,
         fmt::format(" to root knot (gene Mi) fades in soil above 28 degC; how hot the {} gets is "
                     "not known (soil_peak_degc)",
                     bed.name)});
  }
}

// A trouble named without its race, and a packet that names some.
void note_races(const Variety& rootstock, const Resistances& below, const Bed& bed,
                Joining& joining) {
  for (const std::string& trouble : bed.troubles) {
    const auto races = below.races_of(trouble);
    if (races.empty()) continue;
    std::string list;
    for (const std::string& race : races) list += (list.empty() ? "" : ", ") + race;
    joining.notes.push_back(
        {"race-unknown", bed.name, "", rootstock.name,
         fmt::format(" resists {} only; which race of {} troubles the {} is not known", list,
                     trouble, bed.name)});
  }
}

void note_vigour(const Variety& scion, const Variety& rootstock, int want, Joining& joining) {
  if (rootstock.species != Species::interspecific) return;
  const bool is_small = scion.habit == Habit::dwarf || scion.habit == Habit::micro_dwarf;
  if (!is_small && want > kFewPlants) return;
  joining.notes.push_back(
      {"vigour", rootstock.name, "", scion.name,
       fmt::format(
           " on {}, an interspecific rootstock: strong growth, later fruit, dear seed; {} it "
           "is seldom worth that (common practice)",
           rootstock.name,
           is_small ? "under a dwarf" : fmt::format("for {} plants or fewer", kFewPlants))});
}

void add_gains(const Variety& scion, const Variety& rootstock, Joining& joining) {
  const auto below = read_resistances(rootstock.resists);
  if (!below) return;
  const auto above = read_resistances(scion.resists);
  const auto add = [&](const std::set<std::string>& codes, Resistance level) {
    for (const std::string& code : codes) {
      const auto own = above ? above->against(code) : std::nullopt;
      if (own && *own >= level) continue;
      joining.adds.push_back({code, level, above.has_value()});
    }
  };
  add(below->high, Resistance::high);
  add(below->intermediate, Resistance::intermediate);
}

}  // namespace

Joining check_joining(const Variety& scion, const Variety& rootstock, int want,
                      const std::vector<Bed>& beds) {
  Joining joining;
  if (const auto note = virus_note(scion, rootstock)) joining.notes.push_back(*note);
  note_vigour(scion, rootstock, want, joining);
  add_gains(scion, rootstock, joining);
  const auto below = read_resistances(rootstock.resists);
  for (const Bed& bed : beds) {
    if (below) {
      note_heat(rootstock, *below, bed, joining);
      note_races(rootstock, *below, bed, joining);
    }
    for (const std::string& code : bed.troubles) {
      joining.troubles.push_back(
          {bed.name, code, below.has_value(), below ? below->against(code) : std::nullopt});
    }
  }
  return joining;
}

}  // namespace takehold::client
