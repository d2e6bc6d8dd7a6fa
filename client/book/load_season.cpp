#include "client/book/load_season.hpp"

#include <algorithm>
#include <map>

#include "client/book/closed_season.hpp"
#include "client/book/merge.hpp"
#include "client/book/recorder.hpp"

namespace takehold::client {
namespace {

using nlohmann::json;
using sensors::Refused;

// What a sheet says of a noun. Its number is the book's business.
template <class T>
json said(const T& noun) {
  json fields = to_json(noun);
  if constexpr (std::is_same_v<T, Pairing>) fields.erase("id");
  return fields;
}

template <class T>
void keep(json& nouns, const std::vector<T>& list) {
  auto& kept = nouns[std::string(kind_name(T::kKind))] = json::object();
  for (const T& noun : list) kept[identity(noun)] = said(noun);
}

json as_json(const Sheet& sheet) {
  auto nouns = json::object();
  keep(nouns, std::vector{sheet.season});
  keep(nouns, sheet.benches);
  keep(nouns, sheet.beds);
  keep(nouns, sheet.varieties);
  keep(nouns, sheet.lots);
  keep(nouns, sheet.lot_tests);
  keep(nouns, sheet.pairings);
  keep(nouns, sheet.own_roots);
  return nouns;
}

class Load {
 public:
  Load(Recorder& recorder, const Sheet& sheet, MergeWinner winner)
      : recorder_(recorder), sheet_(sheet), winner_(winner), last_(recorder.book().last_sheet()) {}

  LoadReport run() {
    take(std::vector{sheet_.season});
    take(sheet_.benches);
    take(sheet_.beds);
    take(sheet_.varieties);
    take(sheet_.lots);
    take(sheet_.lot_tests);
    take(sheet_.pairings);
    take(sheet_.own_roots);
    refuse_clashes();
    recorder_.keep_sheet(as_json(sheet_));
    return std::move(report_);
  }

 private:
  // What the last sheet said of it; null if it did not have it.
  json last(Kind kind, const std::string& name) const {
    const auto nouns = last_.find(std::string(kind_name(kind)));
    return nouns == last_.end() ? json() : nouns->value(name, json());
  }

  template <class T>
  void take(const std::vector<T>& wanted) {
    std::map<std::string, T> stands;
    for (const T& noun : recorder_.book().all<T>()) stands.emplace(identity(noun), noun);
    for (const T& noun : wanted) {
      const auto found = stands.find(identity(noun));
      if (found == stands.end()) {
        add(noun);
      } else {
        change(found->second, noun);
        stands.erase(found);
      }
    }
    for (const auto& [name, noun] : stands) miss(noun);
  }

  template <class T>
  void add(T noun) {
    const std::string name = identity(noun);
    const json before = last(T::kKind, name);
    if (!before.is_null() && winner_ != MergeWinner::sheet) {  // the grower dropped it
      if (before == said(noun) || winner_ == MergeWinner::book) {
        report_.unchanged.push_back({T::kKind, name, said(noun), true});
      } else {
        clash(T::kKind, name, "dropped in the book, changed in the sheet");
      }
      return;
    }
    if constexpr (std::is_same_v<T, Pairing>) noun.id = recorder_.next_number(Kind::pairing);
    recorder_.put(noun);
    report_.added.push_back({T::kKind, name, to_json(noun), false});
  }

  template <class T>
  void change(const T& stands, const T& wanted) {
    const std::string name = identity(wanted);
    const json before = last(T::kKind, name);
    const json book = to_json(stands);
    const Merged merged =
        merge(before.is_null() ? to_json(T{}) : before, book, said(wanted), winner_);
    for (const Clash& one : merged.clashes) clash(T::kKind, name, to_text(one));
    const json changed = differences(book, merged.fields);
    if (changed.empty()) {
      report_.unchanged.push_back({T::kKind, name, book, false});
      return;
    }
    recorder_.put(from_json<T>(merged.fields));
    report_.changed.push_back({T::kKind, name, changed, false});
  }

  template <class T>
  void miss(const T& noun) {
    bool drop = false;
    if constexpr (std::is_same_v<T, Pairing>)
      drop = !last(T::kKind, identity(noun)).is_null() && recorder_.is_free(T::kKind, noun.key());
    if (drop) recorder_.drop<T>(noun.key());
    report_.missing.push_back({T::kKind, identity(noun), to_json(noun), drop});
  }

  void clash(Kind kind, const std::string& name, const std::string& what) {
    const auto where = sheet_.where.find({kind, name});
    clashes_ += clashes_.empty() ? "" : "\n";
    clashes_ += std::string(kind_name(kind)) + " " + name + ": " + what;
    if (first_clash_.empty())
      first_clash_ = where == sheet_.where.end() ? sheet_.file : where->second;
  }

  void refuse_clashes() const {
    if (clashes_.empty()) return;
    throw Refused({"changed-twice", "the sheet and the book were both changed", clashes_,
                   first_clash_, "--sheet-wins or --book-wins decides; nothing was loaded"});
  }

  Recorder& recorder_;
  const Sheet& sheet_;
  MergeWinner winner_;
  json last_;
  LoadReport report_{};
  std::string clashes_{};
  std::string first_clash_{};
};

}  // namespace

LoadReport load_season(Book& book, const Sheet& sheet, std::string_view words, sensors::Instant now,
                       MergeWinner winner) {
  refuse_closed_season(book, sheet.season.season);
  LoadReport report;
  const auto command = book.record(words, now, [&](Recorder& recorder) {
    if (sheet.season.time_zone)
      recorder.use_time_zone(sensors::TimeZone::named(*sheet.season.time_zone).value());
    report = Load(recorder, sheet, winner).run();
  });
  report.command = command;
  return report;
}

Sheet season_of(const Book& book) {
  const auto seasons = book.all<Season>();
  if (seasons.empty())
    throw Refused({"no-season", "this book has no season yet", "", "",
                   "season new makes a sheet, season load takes it in"});
  Sheet sheet;
  sheet.season = seasons.front();
  sheet.benches = book.all<Bench>();
  std::stable_sort(sheet.benches.begin(), sheet.benches.end(),
                   [](const Bench& a, const Bench& b) { return a.position < b.position; });
  sheet.beds = book.all<Bed>();
  sheet.varieties = book.all<Variety>();
  sheet.lots = book.all<Lot>();
  sheet.lot_tests = book.all<LotTest>();
  sheet.pairings = book.all<Pairing>();
  sheet.own_roots = book.all<OwnRoot>();
  return sheet;
}

}  // namespace takehold::client
