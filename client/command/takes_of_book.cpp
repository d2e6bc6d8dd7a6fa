#include "client/command/takes_of_book.hpp"

#include "client/command/standing.hpp"
#include "client/season/pairing.hpp"

namespace takehold::client {

namespace {

void add_batch(TakeRecord& record, PairingTally& row, const BatchState& state) {
  if (state.finish && !state.finish->early) {
    row.tally.yes += state.taken();
    row.tally.tried += state.taken() + state.lost;
  } else {
    record.pending.push_back({state.batch.id, row.pairing, state.batch.count()});
  }
}

}  // namespace

TakeRecord takes_of(const Book& book) {
  TakeRecord record;
  const auto batches = book.all<Batch>();
  for (const Pairing& pairing : book.all<Pairing>()) {
    PairingTally row{pairing.names(), {}};
    bool grafted = false;
    for (const Batch& batch : batches) {
      if (batch.pairing != pairing.id) continue;
      grafted = true;
      add_batch(record, row, state_of(book, batch));
    }
    if (grafted) record.pairings.push_back(row);
  }
  return record;
}

}  // namespace takehold::client
