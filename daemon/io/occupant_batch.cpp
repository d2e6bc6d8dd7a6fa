#include "daemon/io/occupant_batch.hpp"

#include <nlohmann/json.hpp>

namespace takehold::daemon {

Batch batch_from(const std::string& label, const OccupantBody& body) {
  Batch batch;
  batch.label = label;
  batch.pairing = body.pairing;
  batch.count = body.count;
  batch.regime = body.regime;
  batch.events = body.events;
  batch.entered_at = body.entered_at;
  batch.left_at = body.left_at;
  batch.book = body.book;
  batch.revision = body.revision;
  return batch;
}

Batch batch_from(const OccupantRecord& record) {
  const auto body = occupant_body_from(record.body);
  if (!body) throw sensors::Refused(body.error().problem);
  auto batch = batch_from(record.label, *body);
  batch.left_at = record.left_at;
  return batch;
}

OccupantBody body_of(const Batch& batch) {
  OccupantBody body;
  body.book = batch.book;
  body.revision = batch.revision;
  body.pairing = batch.pairing;
  body.count = batch.count;
  body.entered_at = batch.entered_at;
  body.left_at = batch.left_at;
  body.regime = batch.regime;
  body.events = batch.events;
  return body;
}

OccupantRecord record_of(const Batch& batch) {
  OccupantRecord record;
  record.label = batch.label;
  record.book = batch.book;
  record.revision = batch.revision;
  record.entered_at = batch.entered_at;
  record.left_at = batch.left_at;
  record.body = nlohmann::json(body_of(batch)).dump();
  return record;
}

}  // namespace takehold::daemon
