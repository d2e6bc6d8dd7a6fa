#include "client/plan/sown_parts.hpp"

#include <algorithm>

namespace takehold::client {
namespace {

// Recorded sowings are told from planned waves, which count from 0.
constexpr std::uint64_t kRecorded = std::uint64_t{1} << 63;

const std::string& variety_of(const Pairing& pairing, Side side) {
  return side == Side::rootstock ? pairing.rootstock : pairing.scion;
}

int still_wanted(const PlanRequest& request, const Pairing& pairing) {
  const auto made = request.made.find(pairing.id);
  if (made == request.made.end()) return pairing.want;
  return std::max(0, pairing.want - made->second.taken - made->second.pending);
}

// This pairing's part of n plants, whole ones; what does not divide goes to the earlier pairings.
int part_of(int n, const PlanRequest& request, const SownSeed& sowing, const Pairing& pairing,
            Side side) {
  int before = 0, all = 0;
  for (const Pairing& other : request.pairings) {
    if (!serves(sowing, other, side)) continue;
    if (&other == &pairing) before = all;
    all += still_wanted(request, other);
  }
  if (all == 0) return 0;
  const auto share = [&](int want) { return (n * want + all - 1) / all; };
  return share(before + still_wanted(request, pairing)) - share(before);
}

}  // namespace

bool serves(const SownSeed& sowing, const Pairing& pairing, Side side) {
  if (sowing.side && *sowing.side != side) return false;
  if (sowing.variety != variety_of(pairing, side)) return false;
  return sowing.pairings.empty() || std::find(sowing.pairings.begin(), sowing.pairings.end(),
                                              pairing.id) != sowing.pairings.end();
}

std::vector<PlannedPart> sown_parts(const PlanRequest& request, const SeedBox& box,
                                    const Course& course, const Pairing& pairing, Side side,
                                    Day graft_on) {
  std::vector<PlannedPart> parts;
  for (const SownSeed& sowing : request.sown) {
    const auto days = static_cast<int>((graft_on - sowing.sown_on).count());
    const Course& lived = sowing.course ? *sowing.course : course;
    if (!serves(sowing, pairing, side) || days < 1 || days > lived.length().count()) continue;
    const auto source = box.source_of_lot(sowing.lot);
    if (!source) continue;
    PlannedPart part;
    part.source = *source;
    part.lot = box.belief(*source);
    part.wave = kRecorded | luck_key(sowing.id);
    part.course = &lived;
    part.days_to_graft = days;
    part.all_stand = sowing.standing.has_value();
    part.sown = part_of(sowing.standing.value_or(sowing.seeds), request, sowing, pairing, side);
    part.most = 0;
    part.sowing = sowing.id;
    if (part.sown > 0) parts.push_back(part);
  }
  return parts;
}

}  // namespace takehold::client
