// A book of 20 seasons and 500 batches, and how long it takes to answer: as ratios to the 100 ms
// that `takes` may need. Processor time, so that a busy machine counts little; the figure that
// counts is that of an optimised build.
#include <fmt/format.h>
#include <unistd.h>

#include <ctime>
#include <filesystem>
#include <random>

#include "client/book/recorder.hpp"
#include "client/season/batch.hpp"
#include "client/season/pairing.hpp"
#include "client/season/place.hpp"
#include "client/season/season.hpp"
#include "client/season/seed.hpp"
#include "client/season/sowing.hpp"
#include "daemon/healing/regime_json.hpp"
#include "daemon/healing/regime_toml.hpp"
#include "tests/client/command/run_support.hpp"

namespace takehold::client {
namespace {

constexpr int kSeasons = 20, kBatchesASeason = 25, kGrafts = 8, kPairings = 25;
constexpr double kSecondsAllowed = 0.1;

sensors::Instant noon(int year, unsigned month, unsigned day) {
  return *sensors::parse_instant(fmt::format("{}-{:02}-{:02}T12:00:00Z", year, month, day));
}

/// One season after the other, as a grower would tell it, drawn with a fixed seed.
class LongBook {
 public:
  explicit LongBook(Book& book) : book_(book) {}

  void write() {
    book_.record("set up", noon(2007, 1, 1), [this](Recorder& r) { set_up(r); });
    for (int year = 2007; year < 2007 + kSeasons; ++year) {
      book_.record(fmt::format("season {}", year), noon(year, 12, 1),
                   [&](Recorder& r) { season(r, year); });
    }
  }

 private:
  static void set_up(Recorder& r) {
    r.put(Bench{"bench"});
    for (int i = 0; i < kPairings; ++i) {
      const std::string scion = fmt::format("Scion {}", i), root = fmt::format("Root {}", i / 5);
      r.put(Variety{scion});
      if (i % 5 == 0) r.put(Variety{root});
      r.put(Lot{fmt::format("S{:02}", i), scion, 2026, 5000});
      if (i % 5 == 0) r.put(Lot{fmt::format("R{:02}", i / 5), root, 2026, 9000});
      Pairing pairing;
      pairing.id = r.next_number(Kind::pairing);
      pairing.scion = scion;
      pairing.rootstock = root;
      r.put(pairing);
    }
  }

  std::string sown(Recorder& r, const std::string& lot, sensors::Instant at) {
    Sowing sowing;
    sowing.id = r.next_number(Kind::sowing);
    sowing.lot = lot;
    sowing.at = at;
    sowing.seeds = sowing.cells = kGrafts + 2;
    sowing.bench = "bench";
    r.put(sowing);
    r.put(Emerged{r.next_number(Kind::emerged), sowing.id, at + std::chrono::days(9), kGrafts, ""});
    Measurement measured;
    measured.id = r.next_number(Kind::measurement);
    measured.sowing = sowing.id;
    measured.at = at + std::chrono::days(20);
    for (int i = 1; i <= kGrafts; ++i)
      measured.stems.push_back({i, Millimetres::mm(2.0 + i * 0.05)});
    r.put(measured);
    return sowing.id;
  }

  void season(Recorder& r, int year) {
    Season season;
    season.season = std::to_string(year);
    season.ready_on = sensors::make_day(year, 5, 15);
    r.put(season);
    for (int i = 0; i < kBatchesASeason; ++i) graft(r, year, i);
    r.put(SeasonClose{r.next_number(Kind::season_close), season.season, noon(year, 11, 30), ""});
  }

  void graft(Recorder& r, int year, int pairing) {
    Batch batch;
    batch.at = noon(year, 4, 1 + static_cast<unsigned>(pairing));
    batch.rootstock_sowings = {sown(r, fmt::format("R{:02}", pairing / 5), noon(year, 3, 1))};
    batch.scion_sowings = {sown(r, fmt::format("S{:02}", pairing), noon(year, 3, 5))};
    batch.id = r.next_number(Kind::batch);
    batch.pairing = fmt::format("P{}", pairing + 1);
    batch.scion = fmt::format("Scion {}", pairing);
    batch.rootstock = fmt::format("Root {}", pairing / 5);
    batch.by = pairing % 2 == 0 ? "left" : "right";
    batch.regime = "steady";
    batch.regime_plan = plan_;
    for (int i = 1; i <= kGrafts; ++i) {
      batch.grafts.push_back({i, i, fmt::format("{}-{}", batch.rootstock_sowings[0], i),
                              fmt::format("{}-{}", batch.scion_sowings[0], i),
                              Millimetres::mm(2.0 + i * 0.05), Millimetres::mm(2.1 + i * 0.04)});
    }
    r.put(batch);
    const int lost = static_cast<int>(random_() % 3);
    if (lost > 0) {
      r.put(Loss{r.next_number(Kind::loss),
                 batch.id,
                 batch.at + std::chrono::days(3),
                 lost,
                 {},
                 Cause::wilted,
                 ""});
    }
    r.put(Finish{r.next_number(Kind::finish), batch.id, batch.at + std::chrono::days(10),
                 kGrafts - lost, 0, false, ""});
  }

  Book& book_;
  std::mt19937 random_{20270412};
  std::string plan_ = nlohmann::json(daemon::find_regime("steady", {}).value()).dump();
};

void time_command(const std::string& book, std::vector<std::string> words) {
  const std::string name = fmt::format("{}", fmt::join(words, " "));
  words.insert(words.begin(), {"--book", book, "--now", "2027-01-15T09:00:00Z"});
  const double began = static_cast<double>(std::clock()) / CLOCKS_PER_SEC;
  const Said said = run(words);
  const double took = static_cast<double>(std::clock()) / CLOCKS_PER_SEC - began;
  fmt::print("{:<20} {:6.0f} ms of processor = {:5.2f} x of {:.0f} ms{}\n", name, 1000 * took,
             took / kSecondsAllowed, 1000 * kSecondsAllowed,
             said.exit_code == kDone ? "" : "  REFUSED: " + said.err);
}

}  // namespace
}  // namespace takehold::client

int main(int count, char** words) {
  using namespace takehold::client;
  namespace fs = std::filesystem;
  const bool kept = count > 1;
  const fs::path file =
      kept ? fs::path(words[1]) : fs::temp_directory_path() / fmt::format("long-{}.db", ::getpid());
  fs::remove(file);
  {
    Book book = Book::open(file, noon(2007, 1, 1), {.time_zone = "UTC"});
    LongBook(book).write();
    fmt::print("{} batches, {} records\n", book.all<Batch>().size(), book.nouns().size());
  }
  for (const char* by : {"pairing", "rootstock", "mismatch", "month"}) {
    time_command(file.string(), {"takes", "--by", by});
  }
  time_command(file.string(), {"compare", "P1", "P2"});
  time_command(file.string(), {"causes"});
  time_command(file.string(), {"today"});
  time_command(file.string(), {"worth"});
  if (!kept) fs::remove(file);
  return 0;
}
