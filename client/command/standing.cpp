#include "client/command/standing.hpp"

#include <algorithm>
#include <utility>

#include "client/season/crop.hpp"

namespace takehold::client {

namespace {

/// How many of a batch's grafts used seedlings of this sowing. Grafts without a seedling's name
/// count where the batch drew that side from one sowing only. A repair stands on rootstocks that
/// were used before.
int used_by(const Batch& batch, const std::string& sowing) {
  const auto only = [&](const std::vector<std::string>& sowings) {
    return sowings.size() == 1 && sowings.front() == sowing;
  };
  const bool again = !batch.repairs.empty();
  const bool only_below = only(batch.rootstock_sowings);
  const bool only_above = only(batch.scion_sowings);
  int used = 0;
  for (const Graft& graft : batch.grafts) {
    const bool below =
        graft.rootstock.empty() ? only_below : sowing_of_seedling(graft.rootstock) == sowing;
    if (below && !again) ++used;
    if (graft.scion.empty() ? only_above : sowing_of_seedling(graft.scion) == sowing) ++used;
  }
  return used;
}

/// When something happened, and which was told first where two happened at one instant: a day
/// alone means noon, so that this is common.
using Moment = std::pair<Instant, FirstTold>;

template <class T>
Moment moment_of(const Recorded<T>& record) {
  return {record.noun.at, record.first_told};
}

/// The last in time of the records that `belongs`.
template <class T, class Belongs>
std::optional<Recorded<T>> latest_record(const Book& book, Belongs belongs) {
  std::optional<Recorded<T>> last;
  for (const auto& record : book.records<T>()) {
    if (belongs(record.noun) && (!last || moment_of(record) >= moment_of(*last))) last = record;
  }
  return last;
}

template <class T, class Belongs>
std::optional<T> latest(const Book& book, Belongs belongs) {
  const auto last = latest_record<T>(book, belongs);
  return last ? std::optional<T>(last->noun) : std::nullopt;
}

/// Plants that left a sowing, and when.
class Departures {
 public:
  Departures(const Book& book, const std::string& sowing) {
    const auto about = [&](const auto& record) { return record.subject == sowing; };
    lost = all<Loss>(book, [&](const Loss& l) { return about(l) ? l.count : 0; });
    culled =
        all<Cull>(book, [&](const Cull& c) { return about(c) ? c.count : 0; }) +
        all<Thinning>(book, [&](const Thinning& t) { return t.sowing == sowing ? t.removed : 0; });
    grafted = all<Batch>(book, [&](const Batch& b) { return used_by(b, sowing); });
  }

  /// All that left after that moment.
  int after(const Moment& moment) const {
    int sum = 0;
    for (const auto& [at, count] : gone_) sum += at > moment ? count : 0;
    return sum;
  }
  int in_all() const { return lost + culled + grafted; }

  int lost = 0, culled = 0, grafted = 0;

 private:
  template <class T, class CountOf>
  int all(const Book& book, CountOf count_of) {
    int sum = 0;
    for (const auto& record : book.records<T>()) {
      const int count = count_of(record.noun);
      if (count > 0) gone_.push_back({moment_of(record), count});
      sum += count;
    }
    return sum;
  }

  std::vector<std::pair<Moment, int>> gone_{};
};

int set_out_of(const Book& book, const std::string& subject) {
  int sum = 0;
  for (const SetOut& planted : book.all<SetOut>()) {
    if (planted.subject == subject) sum += planted.count;
  }
  return sum;
}

int& lost_of(BatchState& state, std::optional<LateLoss> late) {
  if (!late) return state.lost;
  return *late == LateLoss::bed ? state.lost_in_bed : state.lost_hardening;
}

}  // namespace

std::string sowing_of_seedling(const std::string& seedling) {
  return seedling.substr(0, seedling.find('-'));
}

SowingState state_of(const Book& book, const Sowing& sowing) {
  SowingState state;
  state.sowing = sowing;
  state.place = sowing.bench;
  if (const auto lot = book.find<Lot>(sowing.lot)) state.variety = lot->variety;
  const auto of_it = [&](const auto& record) { return record.sowing == sowing.id; };
  const auto about = [&](const auto& record) { return record.subject == sowing.id; };
  const auto count = latest_record<Emerged>(book, of_it);
  const Departures gone(book, sowing.id);
  state.lost = gone.lost;
  for (const Loss& loss : book.all<Loss>()) {
    if (about(loss) && loss.late == LateLoss::bed) state.lost_in_bed += loss.count;
  }
  state.culled = gone.culled;
  state.grafted = gone.grafted;
  state.set_out = set_out_of(book, sowing.id);
  if (count) state.standing = std::max(0, count->noun.standing - gone.after(moment_of(*count)));
  state.measured =
      latest<Measurement>(book, [&](const Measurement& m) { return of_it(m) && m.full; });
  const auto moved = latest<Move>(book, about);
  if (moved) state.place = moved->to;
  return state;
}

std::vector<CountedUp> counts_of(const Book& book, const Sowing& sowing) {
  const Departures gone(book, sowing.id);
  std::vector<std::pair<Moment, int>> counts;
  for (const auto& record : book.records<Emerged>()) {
    if (record.noun.sowing != sowing.id) continue;
    const Moment at = moment_of(record);
    counts.push_back({at, record.noun.standing + gone.in_all() - gone.after(at)});
  }
  std::sort(counts.begin(), counts.end());
  std::vector<CountedUp> counted;
  for (const auto& [at, up] : counts) counted.push_back({at.first, up});
  return counted;
}

BatchState state_of(const Book& book, const Batch& batch) {
  BatchState state;
  state.batch = batch;
  state.place = kChamber;
  for (const Loss& loss : book.all<Loss>()) {
    if (loss.subject == batch.id) lost_of(state, loss.late) += loss.count;
  }
  state.set_out = set_out_of(book, batch.id);
  state.finish = latest<Finish>(book, [&](const Finish& f) { return f.batch == batch.id; });
  for (const Cull& cull : book.all<Cull>()) {
    if (cull.subject != batch.id) continue;
    const bool before = !state.finish || cull.at < state.finish->at;
    (before ? state.culled : state.culled_since) += cull.count;
  }
  for (const BatchEvent& event : book.all<BatchEvent>()) {
    if (event.batch == batch.id) state.events.push_back(event);
  }
  std::stable_sort(state.events.begin(), state.events.end(),
                   [](const BatchEvent& a, const BatchEvent& b) { return a.at < b.at; });
  const auto moved = latest<Move>(book, [&](const Move& m) { return m.subject == batch.id; });
  if (moved) state.place = moved->to;
  return state;
}

}  // namespace takehold::client
