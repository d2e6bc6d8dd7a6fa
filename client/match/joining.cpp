#include "client/match/joining.hpp"

#include <fmt/format.h>

namespace takehold::client {
namespace {

constexpr double kMiFades = 28;   // degC of soil
constexpr double kMiIsLost = 32;  // degC for 48 h
constexpr int kFewPlants = 3;     // common practice

bool has_tm_2(TmvGenes genes) {
  return genes == TmvGenes::tm_2 || genes == TmvGenes::tm_2_2;
}

std::optional<JoiningNote> virus_note(const Variety& scion, const Variety& rootstock) {
  const TmvGenes above = scion.tmv_genes, below = rootstock.tmv_genes;
  const std::string names =
      fmt::format("{} ({}) on {} ({})", scion.name, to_text(above), rootstock.name, to_text(below));
  if (has_tm_2(below) && (above == TmvGenes::none || above == TmvGenes::tm_1)) {
    return JoiningNote{"virus-genes",
                       names +
                           ": the genes against tobacco mosaic virus do not agree; if such a "
                           "plant is infected it wilts and dies. A rootstock with Tm-1, or one "
                           "without these genes, is safer"};
  }
  const bool may_clash = has_tm_2(below) || below == TmvGenes::unknown;
  const bool is_open = above == TmvGenes::unknown || below == TmvGenes::unknown;
  if (!may_clash || !is_open || has_tm_2(above)) return std::nullopt;
  return JoiningNote{"virus-genes-unknown",
                     names +
                         ": whether the genes against tobacco mosaic virus agree is not known; "
                         "where they do not, an infected plant wilts and dies"};
}

bool resists_root_knot(const Resistances& resistances) {
  for (const char* code : {"Ma", "Mi", "Mj"}) {
    if (resistances.against(code)) return true;
  }
  return false;
}

void note_heat(const Variety& rootstock, const std::vector<Bed>& beds, Joining& joining) {
  const auto resistances = read_resistances(rootstock.resists);
  if (!resistances || !resists_root_knot(*resistances)) return;
  for (const Bed& bed : beds) {
    if (!bed.soil_peak || bed.soil_peak->degc() <= kMiFades) continue;
    const bool lost = bed.soil_peak->degc() >= kMiIsLost;
    joining.notes.push_back(
        {"mi-heat",
         fmt::format("{}'s resistance to root knot {} in the {}: its soil reaches {:.0f} degC (it "
                     "fades above 28, and is lost after 48 h at 32 or 3 h at 35). Mulch or shade",
                     rootstock.name, lost ? "is lost" : "fades", bed.name, bed.soil_peak->degc())});
  }
}

void note_vigour(const Variety& scion, const Variety& rootstock, int want, Joining& joining) {
  if (rootstock.species != Species::interspecific) return;
  const bool is_small = scion.habit == Habit::dwarf || scion.habit == Habit::micro_dwarf;
  if (!is_small && want > kFewPlants) return;
  joining.notes.push_back(
      {"vigour", fmt::format("{} is an interspecific rootstock: strong growth, later fruit, dear "
                             "seed; {} it is seldom worth that (common practice)",
                             rootstock.name,
                             is_small ? "under a dwarf" : fmt::format("for {} plants", want))});
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
  note_heat(rootstock, beds, joining);
  note_vigour(scion, rootstock, want, joining);
  add_gains(scion, rootstock, joining);
  const auto below = read_resistances(rootstock.resists);
  for (const Bed& bed : beds) {
    for (const std::string& code : bed.troubles) {
      joining.troubles.push_back(
          {bed.name, code, below.has_value(), below ? below->against(code) : std::nullopt});
    }
  }
  return joining;
}

}  // namespace takehold::client
