#include "client/command/match_book.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "client/command/graft.hpp"
#include "client/command/grafts_wanted.hpp"
#include "client/command/match_left_over.hpp"
#include "client/command/recording.hpp"
#include "client/command/season_request.hpp"
#include "client/command/standing.hpp"
#include "client/match/cohort.hpp"

namespace takehold::client {

namespace {

std::set<std::string> gone_seedlings(const Book& book) {
  std::set<std::string> gone;
  for (const Batch& batch : book.all<Batch>()) {
    for (const Graft& graft : batch.grafts) {
      gone.insert(graft.rootstock);
      gone.insert(graft.scion);
    }
  }
  const auto add_plants = [&](const auto& record) {
    for (const int plant : record.plants) gone.insert(fmt::format("{}-{}", record.subject, plant));
  };
  for (const Loss& loss : book.all<Loss>()) add_plants(loss);
  for (const Cull& cull : book.all<Cull>()) add_plants(cull);
  return gone;
}

/// Appends the stems of a variety, sowing after sowing in tray order.
void add_stems(const Book& book, const std::string& variety, const std::set<std::string>& gone,
               StemSide& side, std::optional<sensors::Instant>& oldest) {
  const auto sowings = eligible_sowings(book, variety);
  for (const Sowing& sowing : sowings) {
    const auto measured = state_of(book, sowing).measured;
    if (!measured) continue;
    if (!oldest || measured->at < *oldest) oldest = measured->at;
    auto stems = measured->stems;
    std::sort(stems.begin(), stems.end(),
              [](const Stem& a, const Stem& b) { return a.number < b.number; });
    for (const Stem& stem : stems) {
      const std::string name = fmt::format("{}-{}", sowing.id, stem.number);
      if (gone.contains(name)) continue;
      side.stems.push_back(stem.diameter.um());
      side.names.push_back(name);
      side.lone.push_back(sowings.size() == 1);
    }
  }
}

/// Places from..to of a side.
struct Part {
  std::size_t from = 0, to = 0;
};

class Matcher {
 public:
  Matcher(const Book& book, const MatchQuestion& question, sensors::Instant now)
      : book_(book), question_(question), gone_(gone_seedlings(book)) {
    if (question.share && book.find<Season>("season")) {
      const auto regime = daemon::Regime{};
      plan_ = request_of(book, book.time_zone().day_of(now), regime);
      wanted_.emplace(book, *plan_);
    }
  }

  BookMatch answer(sensors::Instant now) {
    std::vector<Pairing> left = question_.pairings;
    std::stable_sort(left.begin(), left.end(),
                     [](const Pairing& a, const Pairing& b) { return a.weight > b.weight; });
    while (!left.empty()) {
      const std::string rootstock = left.front().rootstock;
      const auto rest = std::stable_partition(
          left.begin(), left.end(), [&](const Pairing& p) { return p.rootstock == rootstock; });
      match_group({left.begin(), rest});
      left.erase(left.begin(), rest);
    }
    finish();
    for (const LeftOverGroup& group : groups_) {
      add_left_over(book_, group, question_.tolerance, now, match());
    }
    return std::move(told_);
  }

 private:
  StemMatch& match() { return told_.match; }

  Part part_of(const std::string& variety, StemSide& side, std::map<std::string, Part>& known) {
    const auto found = known.find(variety);
    if (found != known.end()) return found->second;
    Part part{side.stems.size(), 0};
    add_stems(book_, variety, gone_, side, told_.oldest);
    part.to = side.stems.size();
    if (part.from == part.to) {
      refuse("not-measured", "no seedling of it has been measured in full", variety,
             "takehold measure S1 2.0 2.1 ...");
    }
    used_scions_.resize(match().scions.stems.size());
    return known[variety] = part;
  }

  void match_group(const std::vector<Pairing>& pairings) {
    const Part roots = part_of(pairings.front().rootstock, match().rootstocks, root_parts_);
    std::vector<CohortMember> members;
    std::vector<std::vector<std::size_t>> places;
    for (const Pairing& pairing : pairings) {
      const Part scions = part_of(pairing.scion, match().scions, scion_parts_);
      CohortMember member;
      member.weight = pairing.weight;
      if (wanted_) member.most = wanted_->still(pairing);
      places.emplace_back();
      for (std::size_t s = scions.from; s < scions.to; ++s) {
        if (used_scions_[s]) continue;
        member.scions.push_back(match().scions.stems[s]);
        places.back().push_back(s);
      }
      members.push_back(std::move(member));
    }
    join(pairings, roots, members, places);
  }

  void join(const std::vector<Pairing>& pairings, Part roots,
            const std::vector<CohortMember>& members,
            const std::vector<std::vector<std::size_t>>& places) {
    const auto& stems = match().rootstocks.stems;
    const auto matched = match_members({stems.data() + roots.from, roots.to - roots.from}, members);
    std::vector<MatchShare> shares;
    for (std::size_t m = 0; m < pairings.size(); ++m) {
      shares.push_back(
          {pairings[m].id, pairings[m].scion, pairings[m].rootstock, 0, members[m].most, 0});
    }
    for (const CohortPair& pair : matched.pairs) {
      const std::size_t scion = places[pair.member][pair.scion];
      used_scions_[scion] = true;
      pairs_.push_back(
          {{roots.from + pair.rootstock, scion, pair.mismatch}, pairings[pair.member].id});
      ++shares[pair.member].count;
      shares[pair.member].mismatch += pair.mismatch;
      match().matching.mismatch_total += pair.mismatch;
    }
    LeftOverGroup group;
    for (const std::size_t r : matched.rootstocks_left_over) {
      group.rootstocks.push_back(roots.from + r);
    }
    for (std::size_t m = 0; m < pairings.size(); ++m) {
      for (const std::size_t s : matched.scions_left_over[m]) {
        (shares[m].is_served() ? group.spare : group.scions).push_back(places[m][s]);
      }
    }
    group.shares = shares;
    groups_.push_back(std::move(group));
    match().shares.insert(match().shares.end(), shares.begin(), shares.end());
  }

  /// One pairing that takes all it can needs no sharing out, and its lists may be longer.
  CohortMatching match_members(std::span<const Micrometres> roots,
                               const std::vector<CohortMember>& members) const {
    if (members.size() > 1 || members.front().most) {
      return match_cohort(roots, members, question_.tolerance);
    }
    const Matching alone = match_stems(roots, members.front().scions, question_.tolerance);
    CohortMatching matching;
    for (const StemPair& pair : alone.pairs) {
      matching.pairs.push_back({pair.rootstock, 0, pair.scion, pair.mismatch});
    }
    matching.rootstocks_left_over = alone.rootstocks_left_over;
    matching.scions_left_over = {alone.scions_left_over};
    return matching;
  }

  void finish() {
    std::sort(pairs_.begin(), pairs_.end(),
              [](const auto& a, const auto& b) { return a.first.rootstock < b.first.rootstock; });
    std::vector<bool> used_roots(match().rootstocks.stems.size());
    for (const auto& [pair, pairing] : pairs_) {
      match().matching.pairs.push_back(pair);
      match().pairings.push_back(pairing);
      used_roots[pair.rootstock] = true;
    }
    for (std::size_t r = 0; r < used_roots.size(); ++r) {
      if (!used_roots[r]) match().matching.rootstocks_left_over.push_back(r);
    }
    for (std::size_t s = 0; s < used_scions_.size(); ++s) {
      if (!used_scions_[s]) match().matching.scions_left_over.push_back(s);
    }
  }

  const Book& book_;
  const MatchQuestion& question_;
  std::set<std::string> gone_;
  std::optional<PlanRequest> plan_{};
  std::optional<GraftsWanted> wanted_{};
  BookMatch told_{};
  std::map<std::string, Part> root_parts_{}, scion_parts_{};
  std::vector<bool> used_scions_{};
  std::vector<std::pair<StemPair, std::string>> pairs_{};
  std::vector<LeftOverGroup> groups_{};
};

bool is_measured(const Book& book, const std::string& variety) {
  const auto sowings = eligible_sowings(book, variety);
  return std::any_of(sowings.begin(), sowings.end(), [&](const Sowing& sowing) {
    return state_of(book, sowing).measured.has_value();
  });
}

}  // namespace

BookMatch match_in_book(const Book& book, const MatchQuestion& question, sensors::Instant now) {
  return Matcher(book, question, now).answer(now);
}

std::vector<Pairing> measured_pairings(const Book& book) {
  std::vector<Pairing> measured;
  for (const Pairing& pairing : book.all<Pairing>()) {
    if (is_measured(book, pairing.rootstock) && is_measured(book, pairing.scion)) {
      measured.push_back(pairing);
    }
  }
  return measured;
}

Tolerance season_tolerance(const Book& book) {
  const auto season = book.find<Season>("season");
  return Tolerance::percent_of_mean(season ? season->tolerance_pct : Season{}.tolerance_pct);
}

}  // namespace takehold::client
