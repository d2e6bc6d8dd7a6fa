// What the daemon must hear of a batch: computed anew whenever something about it was recorded.
#include <SQLiteCpp/Database.h>
#include <SQLiteCpp/Statement.h>

#include <algorithm>

#include "client/book/columns.hpp"
#include "client/book/inside.hpp"
#include "client/season/batch.hpp"

namespace takehold::client {
namespace {

using nlohmann::json;

template <class T>
const std::string& batch_of(const T& record) {
  if constexpr (requires { record.subject; }) {
    return record.subject;
  } else {
    return record.batch;
  }
}

/// In the order of their instants.
template <class T, class Records>
std::vector<T> about(const Records& records, std::string_view batch) {
  std::vector<T> found;
  for (const T& record : records)
    if (batch_of(record) == batch) found.push_back(record);
  std::stable_sort(found.begin(), found.end(), [](const T& a, const T& b) { return a.at < b.at; });
  return found;
}

template <class T>
std::vector<T> about(const Tables& tables, std::string_view batch) {
  std::vector<T> records;
  for (const Row& row : tables.now(T::kKind)) records.push_back(from_json<T>(row.fields));
  return about<T>(records, batch);
}

std::optional<sensors::Instant> left_at(const std::vector<Move>& moves,
                                        const std::vector<Finish>& finishes) {
  std::optional<sensors::Instant> left;
  for (const Move& move : moves) {
    if (move.to == kChamber) {
      left.reset();
    } else if (!left) {
      left = move.at;
    }
  }
  for (const Finish& finish : finishes)
    if (!left || finish.at < *left) left = finish.at;
  return left;
}

}  // namespace

std::optional<sensors::Instant> left_chamber_at(const Tables& tables, const std::string& batch) {
  return left_at(about<Move>(tables, batch), about<Finish>(tables, batch));
}

namespace {

int standing(const Tables& tables, const Batch& batch) {
  int plants = batch.count();
  for (const Loss& loss : about<Loss>(tables, batch.id)) plants -= loss.count;
  for (const Cull& cull : about<Cull>(tables, batch.id)) plants -= cull.count;
  return std::max(plants, 0);
}

json events_of(const Tables& tables, const std::string& batch) {
  auto events = json::array();
  for (const BatchEvent& event : about<BatchEvent>(tables, batch))
    events.push_back({{"kind", std::string(to_text(event.kind))},
                      {"at", sensors::to_string(event.at)},
                      {"hours", event.kind == StageChange::hold ? json(event.hours) : json()}});
  return events;
}

json regime_of(const Batch& batch) {
  if (batch.regime_plan.empty())
    return {{"name", batch.regime}, {"source", ""}, {"stages", json::array()}};
  return json::parse(batch.regime_plan);
}

json occupant_of(const Tables& tables, const Batch& batch, const std::string& book,
                 std::int64_t revision) {
  const auto left = left_chamber_at(tables, batch.id);
  return {{"book", book},
          {"revision", revision},
          {"pairing", batch.scion + "/" + batch.rootstock},
          {"count", standing(tables, batch)},
          {"entered_at", sensors::to_string(batch.at)},
          {"left_at", left ? json(sensors::to_string(*left)) : json()},
          {"regime", regime_of(batch)},
          {"events", events_of(tables, batch.id)}};
}

std::set<std::string> batches_among(const Tables& tables, const std::set<NounRef>& nouns) {
  std::set<std::string> labels;
  for (const NounRef& noun : nouns) {
    if (noun.kind == Kind::batch) labels.insert(noun.key);
    if (noun.kind == Kind::exposure) continue;  // the daemon's own words are no news to it
    const auto versions = tables.history(noun.kind, noun.key);
    for (const FieldColumn& column : columns_of(noun.kind)) {
      if (column.field.refers != Kind::batch && !column.field.refers_by_letter) continue;
      const auto key = versions.back().fields.at(std::string(column.field.name)).get<std::string>();
      if (kind_of_key(key) == Kind::batch) labels.insert(key);
    }
  }
  return labels;
}

void replace(SQLite::Database& database, const Notice& notice) {
  SQLite::Statement statement(database,
                              "INSERT OR REPLACE INTO outbox (label, revision, body, at)"
                              " VALUES (?, ?, ?, ?)");
  statement.bind(1, notice.label);
  statement.bind(2, notice.revision);
  if (notice.body) statement.bind(3, *notice.body);
  statement.bind(4, sensors::to_string(notice.at));
  statement.exec();
}

Notice notice_of(const SQLite::Statement& row) {
  Notice notice;
  notice.label = row.getColumn(0).getString();
  notice.revision = row.getColumn(1).getInt64();
  if (!row.getColumn(2).isNull()) notice.body = row.getColumn(2).getString();
  notice.at = sensors::parse_instant(row.getColumn(3).getString()).value();
  notice.tries = row.getColumn(4).getInt();
  notice.trouble = row.getColumn(5).getString();
  notice.parked = row.getColumn(6).getInt() != 0;
  return notice;
}

/// The daemon has something newer of this label than the book, which was put back from an older
/// copy: what the book says now goes out again, above it. Unless it was replaced meanwhile.
void send_above(SQLite::Database& database, const DeliveryOutcome& outcome) {
  const std::int64_t above = *outcome.known_revision + 1;
  SQLite::Statement statement(database,
                              "UPDATE outbox SET revision = ?1, body = json_set(body, '$.revision',"
                              " ?1) WHERE label = ?2 AND revision = ?3 AND body IS NOT NULL");
  statement.bind(1, above);
  statement.bind(2, outcome.label);
  statement.bind(3, outcome.revision);
  if (statement.exec() > 0) count_at_least(database, "revision:" + outcome.label, above);
}

void settle_one(SQLite::Database& database, const DeliveryOutcome& outcome) {
  if (outcome.is_behind()) return send_above(database, outcome);
  const bool done = outcome.delivery == Delivery::delivered;
  SQLite::Statement statement(
      database, done ? "DELETE FROM outbox WHERE label = ? AND revision = ?"
                     : "UPDATE outbox SET tries = tries + 1, trouble = ?3, parked = ?4"
                       " WHERE label = ?1 AND revision = ?2");
  statement.bind(1, outcome.label);
  statement.bind(2, outcome.revision);
  if (!done) {
    statement.bind(3, outcome.trouble);
    statement.bind(4, outcome.delivery == Delivery::parked ? 1 : 0);
  }
  statement.exec();
}

}  // namespace

void note_for_daemon(SQLite::Database& database, const Tables& tables, const std::string& uuid,
                     const std::set<NounRef>& nouns, sensors::Instant now) {
  for (const std::string& label : batches_among(tables, nouns)) {
    Notice notice;
    notice.label = label;
    notice.revision = count_up(database, "revision:" + label);
    notice.at = now;
    if (const auto row = tables.find(Kind::batch, label))
      notice.body =
          occupant_of(tables, from_json<Batch>(row->fields), uuid, notice.revision).dump();
    replace(database, notice);
  }
}

std::optional<sensors::Instant> Book::left_chamber(std::string_view batch) const {
  return left_at(about<Move>(all<Move>(), batch), about<Finish>(all<Finish>(), batch));
}

std::vector<Notice> Book::waiting() const {
  std::vector<Notice> notices;
  SQLite::Statement row(inside_->database(),
                        "SELECT label, revision, body, at, tries, trouble, parked FROM outbox"
                        " ORDER BY at, label");
  while (row.executeStep()) notices.push_back(notice_of(row));
  return notices;
}

void Book::settle(std::span<const DeliveryOutcome> outcomes) {
  if (outcomes.empty()) return;
  auto transaction = inside_->begin();
  for (const DeliveryOutcome& outcome : outcomes) settle_one(inside_->database(), outcome);
  transaction.commit();
}

void Book::unpark() {
  auto transaction = inside_->begin();
  inside_->database().exec("UPDATE outbox SET parked = 0");
  transaction.commit();
}

}  // namespace takehold::client
