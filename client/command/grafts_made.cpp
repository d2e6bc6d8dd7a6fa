#include "client/command/grafts_made.hpp"

#include "client/command/lot_history.hpp"
#include "client/command/standing.hpp"

namespace takehold::client {
namespace {

/// A batch made this long before its planned day still is that session.
constexpr sensors::Days kEarlySession{7};

}  // namespace

GraftsMade made_in(const Book& book, const std::vector<Batch>& batches) {
  GraftsMade made;
  for (const Batch& batch : batches) {
    const BatchState state = state_of(book, batch);
    if (state.finish) {
      made.taken += state.living() + state.finish->given;
    } else {
      made.pending += state.living();
    }
  }
  return made;
}

GraftsMade made_of(const Book& book, const Pairing& pairing) {
  std::vector<Batch> batches = book.all<Batch>();
  std::erase_if(batches, [&](const Batch& batch) {
    return batch.pairing != pairing.id || years_ago(book, batch.at) > 0;
  });
  return made_in(book, batches);
}

std::vector<Batch> batches_since(const Book& book, const Recorded<PlannedGraft>& line) {
  std::vector<Batch> batches;
  for (const auto& batch : book.records<Batch>()) {
    const auto day = book.time_zone().day_of(batch.noun.at);
    const bool is_after = batch.first_told.command > line.command;
    const bool is_its = day >= line.noun.graft_on - kEarlySession;
    if (batch.noun.pairing == line.noun.pairing && is_after && is_its)
      batches.push_back(batch.noun);
  }
  return batches;
}

}  // namespace takehold::client
