// trays: maps of which seedling or graft stands in which cell.
#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "client/command/command_tree.hpp"
#include "client/command/opened_book.hpp"
#include "client/command/plant_words.hpp"
#include "client/command/printing.hpp"
#include "client/command/sown_trays.hpp"
#include "client/command/standing.hpp"
#include "client/print/tray_map.hpp"
#include "client/terminal/numbers.hpp"

namespace takehold::client {
namespace {

struct Typed {
  std::vector<std::string> subjects;
  TypedPaper paper;
};

class TrayMaps {
 public:
  explicit TrayMaps(const Book& book) : book_(book), season_(season_in(book)) {}

  /// The trays in which the sowing stands, with what shares them.
  void add(const Sowing& sowing) {
    for (const SownTray& tray : trays_beside(book_, sowing)) {
      if (tray.holds(sowing.id)) draw(tray, sowing);
    }
  }

  void add(const Batch& batch) {
    int last = 0;
    for (const Graft& graft : batch.grafts) last = std::max(last, graft.place);
    std::vector<TrayCell> cells(static_cast<std::size_t>(last));
    for (const Graft& graft : batch.grafts) {
      if (graft.place < 1) continue;
      TrayCell& cell = cells[static_cast<std::size_t>(graft.place - 1)];
      cell.name = fmt::format("{}-{}", batch.id, graft.number);
      if (!graft.scion.empty()) cell.detail = graft.scion + " on " + graft.rootstock;
    }
    const std::string under =
        fmt::format("{} on {}, grafted {}", batch.scion, batch.rootstock, day(batch.at));
    cut_into_trays(cells, batch.id, under);
  }

  const std::vector<TrayMap>& maps() const { return maps_; }

 private:
  void draw(const SownTray& tray, const Sowing& sowing) {
    std::vector<std::string> names;
    for (const SownCell& cell : tray.cells) {
      if (names.empty() || names.back() != cell.sowing) names.push_back(cell.sowing);
    }
    TrayMap map{"", "sown " + day(sowing.at), tray_columns(season_.cells_per_tray), {}};
    for (const std::string& name : names) {
      const auto one = *book_.find<Sowing>(name);
      map.title += (map.title.empty() ? "" : ", ") + name + " " + variety_of_lot(book_, one.lot);
      map.under += fmt::format(", {}{} of lot {}", names.size() > 1 ? name + ": " : "",
                               counted(one.seeds, "seed", "seeds"), one.lot);
    }
    if (tray.of > 1) map.title += fmt::format(", tray {} of {}", tray.number, tray.of);
    for (const SownCell& cell : tray.cells) {
      TrayCell written{names.size() > 1 ? cell.sowing + ": " : "",
                       counted(cell.seeds, "seed", "seeds")};
      for (int i = 0; i < cell.seeds; ++i) {
        written.name += (i == 0 ? "" : ", ") + std::to_string(cell.first_seed + i);
      }
      map.cells.push_back(std::move(written));
    }
    map.cells.resize(static_cast<std::size_t>(season_.cells_per_tray));
    const bool is_new = std::none_of(maps_.begin(), maps_.end(), [&](const TrayMap& drawn) {
      return drawn.title == map.title && drawn.under == map.under;
    });
    if (is_new) maps_.push_back(std::move(map));
  }

  std::string day(Instant at) const { return sensors::to_string(book_.time_zone().day_of(at)); }

  void cut_into_trays(const std::vector<TrayCell>& cells, const std::string& title,
                      const std::string& under) {
    const auto of_tray = static_cast<std::size_t>(season_.cells_per_tray);
    const std::size_t trays = (cells.size() + of_tray - 1) / of_tray;
    for (std::size_t tray = 0; tray < trays; ++tray) {
      TrayMap map{trays > 1 ? fmt::format("{}, tray {} of {}", title, tray + 1, trays) : title,
                  under,
                  tray_columns(season_.cells_per_tray),
                  {}};
      map.cells.assign(of_tray, TrayCell{});
      for (std::size_t i = 0; i < of_tray && tray * of_tray + i < cells.size(); ++i) {
        map.cells[i] = cells[tray * of_tray + i];
      }
      maps_.push_back(std::move(map));
    }
  }

  const Book& book_;
  Season season_;
  std::vector<TrayMap> maps_;
};

void add_named(TrayMaps& maps, const Book& book, const std::string& typed_name) {
  if (!typed_name.empty() && (typed_name[0] == 'G' || typed_name[0] == 'g')) {
    maps.add(find_numbered<Batch>(book, typed_name));
  } else {
    maps.add(find_numbered<Sowing>(book, typed_name));
  }
}

// Sowings with plants that may still stand in their trays, and batches not yet set out.
void add_standing(TrayMaps& maps, const Book& book, sensors::Instant now) {
  constexpr sensors::Days kThisSeason{250};
  for (const Sowing& sowing : book.all<Sowing>()) {
    if (now - sowing.at >= kThisSeason) continue;
    if (state_of(book, sowing).standing.value_or(1) > 0) maps.add(sowing);
  }
  for (const Batch& batch : book.all<Batch>()) {
    if (now - batch.at < kThisSeason && state_of(book, batch).living() > 0) maps.add(batch);
  }
}

void print_trays(const Typed& words, Context& context) {
  const Book book = open_book(context, BookUse::reading);
  TrayMaps maps(book);
  for (const auto& subject : words.subjects) add_named(maps, book, subject);
  if (words.subjects.empty()) add_standing(maps, book, context.now);
  if (maps.maps().empty()) {
    throw sensors::Refused(
        {"nothing-to-print", "no tray stands anywhere", "", "trays", "record a sowing first"});
  }
  const std::string heading = "Trays on " +
                              sensors::to_string(book.time_zone().day_of(context.now)) +
                              ", numbered from the corner with the label";
  Paper paper = open_paper(words.paper, paper_size(words.paper.paper), context.now);
  const auto shortened = draw_tray_maps(paper, maps.maps(), heading);
  paper.finish();
  note_trouble(context, shortened, paper.letters_without_font());
  nlohmann::json trays = nlohmann::json::array();
  for (const TrayMap& map : maps.maps()) trays.push_back(map.title);
  say_printed(context, words.paper, paper.pages(), {{"trays", std::move(trays)}});
}

}  // namespace

void add_trays(CommandTree& tree) {
  CLI::App& app = tree.command(
      "trays", {kDaily, "a map of every tray: which seedling or graft stands where",
                "Of all that stand, or of the sowings and batches named.", "trays\ntrays S1 G3"});
  const auto words = std::make_shared<Typed>();
  app.add_option("subjects", words->subjects, "sowings and batches, as S12 G7");
  add_paper(app, words->paper, "trays.pdf");
  tree.action(app, [words](Context& context) { print_trays(*words, context); });
}

}  // namespace takehold::client
