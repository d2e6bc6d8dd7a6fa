#include "client/plan/joining_notes.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "client/match/joining.hpp"

namespace takehold::client {
namespace {

// What is the same for several pairings, with those it is the same for.
struct Told {
  JoiningNote note;
  std::vector<std::string> whom;
};

std::string listed(const std::vector<std::string>& names) {
  std::string text;
  for (const std::string& name : names) text += (text.empty() ? "" : ", ") + name;
  return text;
}

void add(std::vector<Told>& list, const JoiningNote& note) {
  const auto same = std::find_if(list.begin(), list.end(), [&](const Told& told) {
    return told.note.code == note.code && told.note.after == note.after;
  });
  if (same == list.end()) {
    list.push_back({note, {note.whom}});
  } else if (std::find(same->whom.begin(), same->whom.end(), note.whom) == same->whom.end()) {
    same->whom.push_back(note.whom);
  }
}

// Once a rootstock and bed: what its roots do not resist there, or nobody knows.
void add_beds(std::vector<PlanNote>& notes, const Variety& rootstock, const Joining& joining) {
  std::vector<std::pair<std::string, std::vector<std::string>>> lacking;
  bool is_known = true;
  for (const BedTrouble& trouble : joining.troubles) {
    is_known = trouble.is_known;
    if (trouble.level) continue;
    if (lacking.empty() || lacking.back().first != trouble.bed)
      lacking.push_back({trouble.bed, {}});
    lacking.back().second.push_back(trouble.code);
  }
  for (const auto& [bed, codes] : lacking) {
    notes.push_back(
        {is_known ? "bed-trouble" : "bed-trouble-unknown", rootstock.name,
         is_known
             ? fmt::format("no resistance to {} of the {} is named", listed(codes), bed)
             : fmt::format("whether it resists {} of the {} is not known", listed(codes), bed)});
  }
}

}  // namespace

std::vector<PlanNote> notes_on_joining(const PlanRequest& request, const SeedBox& box) {
  std::vector<Told> told;
  std::vector<PlanNote> of_beds;
  std::vector<std::string> seen;
  for (const Pairing& pairing : request.pairings) {
    const Variety& rootstock = box.variety(pairing.rootstock);
    const Joining joining =
        check_joining(box.variety(pairing.scion), rootstock, pairing.want, request.beds);
    for (const JoiningNote& note : joining.notes) add(told, note);
    if (std::find(seen.begin(), seen.end(), rootstock.name) != seen.end()) continue;
    seen.push_back(rootstock.name);
    add_beds(of_beds, rootstock, joining);
  }
  std::vector<PlanNote> notes;
  for (Told& one : told) {
    one.note.whom = listed(one.whom);
    notes.push_back({one.note.code, one.note.about, one.note.text()});
  }
  notes.insert(notes.end(), of_beds.begin(), of_beds.end());
  return notes;
}

}  // namespace takehold::client
