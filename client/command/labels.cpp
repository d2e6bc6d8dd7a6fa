// labels: for trays, cells and grafts, with a code that can be read by a telephone.
#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "client/command/command_tree.hpp"
#include "client/command/opened_book.hpp"
#include "client/command/plant_words.hpp"
#include "client/command/printing.hpp"
#include "client/command/sown_trays.hpp"
#include "client/print/label.hpp"
#include "client/season/batch.hpp"
#include "client/terminal/table.hpp"

namespace takehold::client {

using nlohmann::json;

namespace {

constexpr sensors::Days kThisSeason{250};  // a sowing older than this has long been set out

struct Typed {
  std::vector<std::string> subjects;
  bool sowings = false, today = false, preview = false;
  std::string batch, sheet, label, page, margin, gap, roll, stake, one_for;
  int skip = 0;
  TypedPaper paper;
};

Label sowing_label(const Book& book, const Sowing& sowing) {
  const std::string variety = variety_of_lot(book, sowing.lot);
  Label label{variety, "", {plant_kind(book.find<Variety>(variety))}, sowing.id};
  label.lines.push_back("sown " + sensors::to_string(book.time_zone().day_of(sowing.at)));
  label.lines.push_back("lot " + sowing.lot);
  return label;
}

/// ", tray 2: cells 3-6"
std::string cells_text(const SownTray& tray, const std::string& sowing) {
  int first = 0, last = 0;
  for (std::size_t i = 0; i < tray.cells.size(); ++i) {
    if (tray.cells[i].sowing != sowing) continue;
    last = static_cast<int>(i) + 1;
    if (first == 0) first = last;
  }
  return fmt::format(", tray {}: {} {}", tray.number, first == last ? "cell" : "cells",
                     first == last ? std::to_string(first) : fmt::format("{}-{}", first, last));
}

void add_sowing(std::vector<Label>& labels, const Book& book, const Sowing& sowing,
                const std::string& one_for) {
  Label label = sowing_label(book, sowing);
  if (one_for != "tray") {
    const int copies = one_for == "cell" ? std::max(1, sowing.cells) : 1;
    labels.insert(labels.end(), static_cast<std::size_t>(copies), label);
    return;
  }
  for (const SownTray& tray : trays_beside(book, sowing)) {
    if (!tray.holds(sowing.id)) continue;
    label = sowing_label(book, sowing);
    label.lines.back() += cells_text(tray, sowing.id);
    labels.push_back(label);
  }
}

void add_batch(std::vector<Label>& labels, const Book& book, const Batch& batch,
               const std::string& one_for) {
  Label label{batch.scion,
              "on " + batch.rootstock,
              {plant_kind(book.find<Variety>(batch.scion)),
               "grafted " + sensors::to_string(book.time_zone().day_of(batch.at))},
              batch.id};
  if (one_for == "batch") {
    labels.push_back(label);
    return;
  }
  std::vector<Graft> grafts = batch.grafts;
  std::sort(grafts.begin(), grafts.end(),
            [](const Graft& a, const Graft& b) { return a.place < b.place; });
  for (const Graft& graft : grafts) {
    label.code = fmt::format("{}-{}", batch.id, graft.number);
    labels.push_back(label);
  }
}

void add_subject(std::vector<Label>& labels, const Book& book, const std::string& typed_name,
                 const std::string& one_for) {
  const bool is_batch = !typed_name.empty() && (typed_name[0] == 'G' || typed_name[0] == 'g');
  if (is_batch) {
    add_batch(labels, book, find_numbered<Batch>(book, typed_name),
              one_for.empty() ? "graft" : one_for);
  } else {
    add_sowing(labels, book, find_numbered<Sowing>(book, typed_name),
               one_for.empty() ? "tray" : one_for);
  }
}

std::vector<std::string> subjects_of(const Book& book, const Typed& words, sensors::Instant now) {
  std::vector<std::string> subjects = words.subjects;
  if (!words.batch.empty()) subjects.push_back(words.batch);
  const auto& zone = book.time_zone();
  for (const Sowing& sowing : book.all<Sowing>()) {
    const auto age = zone.day_of(now) - zone.day_of(sowing.at);
    if ((words.sowings && age < kThisSeason) || (words.today && age == sensors::Days{0})) {
      subjects.push_back(sowing.id);
    }
  }
  for (const Batch& batch : book.all<Batch>()) {
    if (words.today && zone.day_of(batch.at) == zone.day_of(now)) subjects.push_back(batch.id);
  }
  return subjects;
}

/// "70x37", in millimetres unless a suffix says otherwise.
Size typed_size(const std::string& text, const char* what) {
  const auto cross = text.find_first_of("xX");
  const auto side = [&](const std::string& number) {
    const auto length = parse_length(number, Units::metric, what);
    if (!length) throw WrongUsage(length.error());
    return length->mm();
  };
  if (cross == std::string::npos) {
    throw WrongUsage({"bad-size", "width x height", text, what, "as 70x37, in millimetres"});
  }
  const Size size{side(text.substr(0, cross)), side(text.substr(cross + 1))};
  if (size.width < 0 || size.height < 0 || size.width > 1000 || size.height > 1000) {
    throw WrongUsage({"out-of-range", "from 0 to 1000 millimetres", text, what, ""});
  }
  return size;
}

LabelStock stock_of(const Typed& words) {
  if (!words.roll.empty()) return label_roll(typed_size(words.roll, "--roll"));
  if (!words.stake.empty()) return label_stake(typed_size(words.stake, "--stake"));
  const auto or_zero = [](const std::string& text, const char* what) {
    return text.empty() ? Size{} : typed_size(text, what);
  };
  if (!words.label.empty()) {
    const Size page =
        words.page.empty() ? paper_size(words.paper.paper) : typed_size(words.page, "--page");
    return label_sheet_of(page, typed_size(words.label, "--label"),
                          or_zero(words.margin, "--margin"), or_zero(words.gap, "--gap"));
  }
  const auto stock = label_sheet(words.sheet.empty() ? "a4-24" : words.sheet);
  if (stock) return *stock;
  std::string known;
  for (const LabelStock& one : label_sheets()) known += (known.empty() ? "" : " | ") + one.name;
  throw WrongUsage({"unknown-word", "no sheet of labels is called \"" + words.sheet + "\"", "",
                    "--sheet", known + ", or any other by --label and --page"});
}

json labels_json(const std::vector<Label>& labels) {
  json list = json::array();
  for (const Label& label : labels) {
    list.push_back({{"code", label.code},
                    {"headline", label.headline},
                    {"under", label.under},
                    {"lines", label.lines}});
  }
  return list;
}

void preview(const std::vector<Label>& labels, const LabelStock& stock, int skip,
             Context& context) {
  Table table({{"code"}, {"says"}});
  for (const Label& label : labels) {
    std::string says = label.headline + (label.under.empty() ? "" : " " + label.under);
    for (const auto& line : label.lines) says += " / " + line;
    table.add({label.code, says});
  }
  const int used = static_cast<int>(labels.size()) + skip;
  const int pages = (used + stock.on_a_page() - 1) / stock.on_a_page();
  context.out.text(table.text(context.out.style()));
  context.out.line(fmt::format("{} on {} of {} each ({:g} x {:g} mm); nothing is written yet",
                               counted(static_cast<long long>(labels.size()), "label", "labels"),
                               counted(pages, "page", "pages"), stock.on_a_page(),
                               stock.label.width, stock.label.height));
  context.out.document({{"file", nullptr}, {"pages", pages}, {"labels", labels_json(labels)}});
}

void print_labels(const Typed& words, Context& context) {
  const Book book = open_book(context, BookUse::reading);
  const LabelStock stock = stock_of(words);
  std::vector<Label> labels;
  for (const auto& subject : subjects_of(book, words, context.now)) {
    add_subject(labels, book, subject, words.one_for);
  }
  if (labels.empty()) {
    throw sensors::Refused({"nothing-to-print", "nothing here wants a label", "", "labels",
                            "name sowings or batches, as S12 or G7, or say --sowings"});
  }
  const int skip = words.skip % stock.on_a_page();
  if (words.preview) return preview(labels, stock, skip, context);
  Paper paper = open_paper(words.paper, stock.page, context.now);
  const auto shortened = draw_labels(paper, stock, labels, skip);
  paper.finish();
  note_trouble(context, shortened, paper.letters_without_font());
  say_printed(context, words.paper, paper.pages(), {{"labels", labels_json(labels)}});
}

void add_sizes(CLI::App& app, Typed& words) {
  app.add_option("--sheet", words.sheet, "a sheet known here: a4-24 (usual), a4-65, letter-30");
  app.add_option("--label", words.label, "or any size of label, as 70x37 (mm)");
  app.add_option("--page", words.page, "with --label: the page, as 210x297; usual: --paper");
  app.add_option("--margin", words.margin, "with --label: left and upper margin, as 8x10");
  app.add_option("--gap", words.gap, "with --label: between labels, as 2x0");
  app.add_option("--roll", words.roll, "one label a page, for a roll, as 57x32");
  app.add_option("--stake", words.stake, "a stake, as 20x120; its last quarter stays blank");
  app.add_option("--skip", words.skip, "labels used already on the first sheet")
      ->check(CLI::NonNegativeNumber);
}

}  // namespace

void add_labels(CommandTree& tree) {
  CLI::App& app = tree.command(
      "labels",
      {kDaily, "labels for trays, cells and grafts",
       "A sowing gets a label for each tray, a batch one for each graft. The square code holds\n"
       "the short name, S12 or G7-3, for a telephone to read.",
       "labels --sowings\nlabels G3 --roll 57x32\nlabels S1 --one-for cell --stake 20x120"});
  const auto words = std::make_shared<Typed>();
  app.add_option("subjects", words->subjects, "sowings and batches, as S12 G7");
  app.add_flag("--sowings", words->sowings, "all sowings of this season");
  app.add_option("--batch", words->batch, "the grafts of this batch");
  app.add_flag("--today", words->today, "what was sown and grafted today");
  app.add_option("--one-for", words->one_for, "each tray, cell or sowing; each graft or batch")
      ->check(CLI::IsMember({"tray", "cell", "sowing", "graft", "batch"}));
  add_sizes(app, *words);
  app.add_flag("--preview", words->preview, "say what the labels would be, and write nothing");
  add_paper(app, words->paper, "labels.pdf");
  tree.action(app, [words](Context& context) { print_labels(*words, context); });
}

}  // namespace takehold::client
