#include "client/book/book.hpp"

#include <SQLiteCpp/Database.h>
#include <SQLiteCpp/Statement.h>

#include <random>

#include "client/book/inside.hpp"
#include "client/book/recorder.hpp"
#include "client/season/sowing.hpp"
#include "daemon/store/transaction.hpp"
#include "embedded/book_schema.hpp"
#include "sensors/quantity/machine_zone.hpp"

namespace takehold::client {
namespace {

constexpr std::int32_t kBookId = 0x54484b42;  // "THKB"

// RFC 9562, version 4: random but for the six fixed bits.
std::string random_uuid() {
  std::random_device random;
  std::string text;
  for (int i = 0; i < 32; ++i) {
    unsigned digit = random() & 0xF;
    if (i == 12) digit = 4;
    if (i == 16) digit = 8 | (digit & 3);
    if (i == 8 || i == 12 || i == 16 || i == 20) text += '-';
    text += "0123456789abcdef"[digit];
  }
  return text;
}

bool is_made(SQLite::Database& database) {
  SQLite::Statement statement(database, "SELECT count(*) FROM book");
  statement.executeStep();
  return statement.getColumn(0).getInt() > 0;
}

void make(daemon::Store& store, sensors::Instant now, const BookOptions& options) {
  const auto zone = options.time_zone ? sensors::TimeZone::named(*options.time_zone).value()
                                      : sensors::machine_zone();
  daemon::Transaction transaction(store);
  if (is_made(store.database())) return;  // by another process, a moment ago
  SQLite::Statement statement(
      store.database(), "INSERT INTO book (only, uuid, made_at, time_zone) VALUES (1, ?, ?, ?)");
  statement.bind(1, random_uuid());
  statement.bind(2, sensors::to_string(now));
  statement.bind(3, zone.name());
  statement.exec();
  transaction.commit();
}

}  // namespace

Book Book::open(const std::filesystem::path& path, sensors::Instant now,
                const BookOptions& options) {
  if (options.must_exist && !std::filesystem::exists(path))
    throw sensors::Refused({"no-file", "there is no book here", "", path.string(), ""});
  daemon::StoreOptions store_options;
  store_options.application_id = kBookId;
  store_options.migrations = daemon::migrations_of(embedded::book_schema);
  auto store = daemon::Store::open(path, store_options);
  if (!is_made(store.database())) make(store, now, options);
  SQLite::Statement statement(store.database(), "SELECT uuid, time_zone FROM book");
  statement.executeStep();
  const std::string uuid = statement.getColumn(0).getString();
  auto zone = sensors::TimeZone::named(statement.getColumn(1).getString()).value();
  Tables tables(store.database());
  return Book(
      std::unique_ptr<Inside>(new Inside{std::move(store), tables, uuid, std::move(zone), {}, {}}));
}

Book::Book(std::unique_ptr<Inside> inside) : inside_(std::move(inside)) {}
Book::Book(Book&&) noexcept = default;
Book& Book::operator=(Book&&) noexcept = default;
Book::~Book() = default;

const std::filesystem::path& Book::path() const {
  return inside_->store.path();
}
const std::string& Book::uuid() const {
  return inside_->uuid;
}
const sensors::TimeZone& Book::time_zone() const {
  return inside_->time_zone;
}
const Tables& Book::tables() const {
  return inside_->tables;
}

Book::Read& Book::read_of(Kind kind) const {
  const FileState now = file_state(inside_->database());
  if (now != inside_->read_at) inside_->read.clear();
  inside_->read_at = now;
  return inside_->read[kind];
}

std::optional<CommandId> Book::record(std::string_view words, sensors::Instant now,
                                      const std::function<void(Recorder&)>& work) {
  auto transaction = inside_->begin();
  auto& database = inside_->database();
  Recorder recorder(*this, begin_command(database, words, now), now);
  work(recorder);
  if (!recorder.changed()) return std::nullopt;
  write_touches(database, recorder.command_, recorder.touched_);
  note_for_daemon(database, inside_->tables, inside_->uuid,
                  {recorder.touched_.begin(), recorder.touched_.end()}, now);
  transaction.commit();
  if (recorder.zone_) inside_->time_zone = *recorder.zone_;
  return recorder.command_;
}

Undone Book::undo(sensors::Instant now, std::optional<CommandId> command) {
  auto transaction = inside_->begin();
  auto& database = inside_->database();
  Undone undone = undo_command(database, inside_->tables, now, command);
  note_for_daemon(database, inside_->tables, inside_->uuid,
                  {undone.nouns.begin(), undone.nouns.end()}, now);
  transaction.commit();
  return undone;
}

std::vector<CommandLine> Book::commands() const {
  auto lines = command_lines(inside_->database());
  return {lines.rbegin(), lines.rend()};
}

nlohmann::json Book::last_sheet() const {
  std::set<CommandId> undone;
  for (const CommandLine& line : command_lines(inside_->database()))
    if (line.undone) undone.insert(line.id);
  SQLite::Statement statement(inside_->database(),
                              "SELECT command, nouns FROM sheet ORDER BY row DESC");
  while (statement.executeStep())
    if (!undone.contains(statement.getColumn(0).getInt64()))
      return nlohmann::json::parse(statement.getColumn(1).getString());
  return nlohmann::json::object();
}

int Book::on_hand(std::string_view lot) const {
  std::optional<Recorded<SeedCount>> newest;
  for (auto& count : records<SeedCount>())
    if (count.noun.lot == lot && (!newest || count.first_told > newest->first_told)) newest = count;
  if (!newest) return 0;
  int seeds = newest->noun.seeds;
  for (const auto& sowing : records<Sowing>())
    if (sowing.noun.lot == lot && sowing.first_told > newest->first_told)
      seeds -= sowing.noun.seeds;
  return seeds;
}

std::vector<std::string> Book::complaints() const {
  std::vector<std::string> found;
  SQLite::Statement integrity(inside_->database(), "PRAGMA integrity_check");
  while (integrity.executeStep())
    if (const auto text = integrity.getColumn(0).getString(); text != "ok") found.push_back(text);
  SQLite::Statement keys(inside_->database(), "PRAGMA foreign_key_check");
  while (keys.executeStep())
    found.push_back("a row of " + keys.getColumn(0).getString() + " names a command that is not");
  return found;
}

}  // namespace takehold::client
