#include "client/plan/plan_notes.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "client/plan/chamber_notes.hpp"
#include "client/plan/counts.hpp"
#include "client/plan/joining_notes.hpp"

namespace takehold::client {
namespace {

using Notes = std::vector<PlanNote>;

constexpr double kRounding = 1e-9;

std::string name_of(const PlannedPairing& pairing) {
  return pairing.id.empty() ? pairing.scion + "/" + pairing.rootstock : pairing.id;
}

void note_days(Notes& notes, const PlannedPairing& pairing, const PairDraft& draft,
               const PlanRequest& request) {
  if (draft.complete) return;
  if (!draft.graft_on) {
    notes.push_back({"no-graft-day", name_of(pairing),
                     "no day was found on which both stems can be grafted: on the first bench they "
                     "do not come up or thicken in time, or no work days are left"});
  } else if (draft.late) {
    const Day ready = *draft.graft_on + std::chrono::ceil<std::chrono::days>(request.regime_length);
    notes.push_back(
        {"late", name_of(pairing),
         fmt::format("it is too late to be ready in time: grafted on {}, ready on {}; the "
                     "probability is that of being ready in time",
                     sensors::to_string(*draft.graft_on), sensors::to_string(ready))});
  }
}

void note_reach(Notes& notes, const PlannedPairing& pairing, const PairDraft& draft,
                double confidence) {
  if (!draft.graft_on || draft.late || pairing.probability >= confidence - kRounding) return;
  const std::string held =
      pairing.limited_by ? fmt::format("; held back most by {}", to_text(*pairing.limited_by)) : "";
  notes.push_back({"out-of-reach", name_of(pairing),
                   fmt::format("{:.0f} % asked, {:.0f} % reached{}", 100 * confidence,
                               100 * pairing.probability, held)});
}

void note_seed(Notes& notes, const SeedBox& box) {
  for (std::size_t i = 0; i < box.size(); ++i) {
    const SeedSource& source = box.at(i);
    if (source.is_short()) {
      notes.push_back({"seed-short", *source.lot,
                       fmt::format("{} seeds needed, {} on hand", source.needed, source.on_hand)});
    } else if (!source.lot && source.needed > 0) {
      notes.push_back(
          {"no-seed", source.variety,
           fmt::format("no lot of it: planned as one bought lot, {} seeds to buy", source.needed)});
    }
  }
}

void note_own_roots(Notes& notes, const SeasonPlan& plan) {
  for (const PlannedOwnRoot& root : plan.own_root) {
    if (!root.sow_on) {
      notes.push_back({"no-sowing-day", root.variety, "no day was found to sow it"});
    } else if (root.probability < plan.confidence - kReached) {
      notes.push_back({"out-of-reach", root.variety,
                       fmt::format("{:.0f} % asked, {:.0f} % reached on own roots",
                                   100 * plan.confidence, 100 * root.probability)});
    }
  }
}

// Few free days leave few differences between the two sowings to choose from.
void note_work_days(Notes& notes, const SeasonPlan& plan, const PlanRequest& request) {
  if (request.season.free_days.empty()) return;
  const bool any_off =
      std::any_of(plan.pairings.begin(), plan.pairings.end(), [](const PlannedPairing& pairing) {
        return pairing.offset_days && (*pairing.offset_days < 2 || *pairing.offset_days > 4);
      });
  if (!any_off) return;
  std::string days;
  for (const Weekday day : request.season.free_days) {
    days += (days.empty() ? "" : ", ") + std::string(to_text(day));
  }
  notes.push_back({"free-days", "",
                   fmt::format("sown and grafted on {} only. Rootstocks best go 2 to 4 days before "
                               "scions, and such days are not free: a few minutes on another day "
                               "would save seed",
                               days)});
}

bool any_price_assumed(const PlanRequest& request, const SeedBox& box) {
  if (!request.season.cell_price || !request.season.graft_price) return true;
  for (std::size_t i = 0; i < box.size(); ++i) {
    if (box.at(i).needed > 0 && !box.at(i).price_is_known) return true;
  }
  return false;
}

// What is the same for several is said once, with all of them named.
void gather(Notes& notes) {
  Notes gathered;
  for (PlanNote& note : notes) {
    const auto same = std::find_if(gathered.begin(), gathered.end(), [&](const PlanNote& other) {
      return other.code == note.code && other.text == note.text;
    });
    if (same == gathered.end()) {
      gathered.push_back(std::move(note));
    } else {
      same->about += ", " + note.about;
    }
  }
  notes = std::move(gathered);
}

}  // namespace

std::vector<PlanNote> notes_on(const SeasonPlan& plan, const PlanRequest& request,
                               const std::vector<PairDraft>& pairs, const SeedBox& box) {
  Notes notes;
  for (std::size_t i = 0; i < plan.pairings.size(); ++i) {
    note_days(notes, plan.pairings[i], pairs[i], request);
    note_reach(notes, plan.pairings[i], pairs[i], plan.confidence);
  }
  gather(notes);
  for (PlanNote& note : notes_on_joining(request, box)) notes.push_back(std::move(note));
  note_own_roots(notes, plan);
  note_work_days(notes, plan, request);
  note_seed(notes, box);
  for (PlanNote& note : notes_on_chamber(plan.chamber)) notes.push_back(std::move(note));
  if (any_price_assumed(request, box)) {
    notes.push_back({"assumed-prices", "",
                     "prices not in the sheet are assumed: seed 0.10, of interspecific rootstocks "
                     "0.50, a cell 0.05, a graft 0.20"});
  }
  return notes;
}

}  // namespace takehold::client
