// `takehold growth`: what is known of a lot's growth, and growth curves fitted to any table.
#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "client/command/command_tree.hpp"
#include "client/command/growth_fit.hpp"
#include "client/command/growth_show.hpp"
#include "client/command/opened_book.hpp"
#include "client/command/text_file.hpp"

namespace takehold::client {
namespace {

struct ShowWords {
  std::string lot;
};

void show(Context& context, const ShowWords& words) {
  Book book = open_book(context, BookUse::reading);
  const Lot lot = find_typed<Lot>(book, words.lot);
  fetch_bench_hours(context, book);
  const GrowthShown shown = growth_shown(book, lot, context.now);
  context.out.text(growth_text(shown, context.out.style()));
  if (!shown.sowings.empty()) note_warmth(shown.warmth, context);
  context.out.document(growth_json(shown));
}

struct FitWords {
  std::string file, curve, start;
  std::optional<double> at;
};

void fit(Context& context, const FitWords& words) {
  const auto table = read_points(read_text_file(words.file), words.file);
  const auto fits = fit_all(table, words.curve, words.start);
  context.out.text(fits_text(table, fits, words.at, context.out.style()));
  context.out.document(fits_json(table, fits, words.at));
}

}  // namespace

void add_growth(CommandTree& tree) {
  CLI::App& app = tree.command(
      "growth",
      {kLearning, "how a lot grows: its data, the fit, and how sure it is",
       "What was counted and measured makes a lot known: how much of it lives, how fast it\n"
       "comes up and thickens, against an average lot.",
       "growth show QP-24\ngrowth fit stems.csv"});
  CLI::App& show_app =
      tree.command_under(app, "show",
                         {"", "a lot's stems drawn with the fit and the band of 9 seedlings in 10",
                          "", "growth show QP-24"});
  const auto shown = std::make_shared<ShowWords>();
  show_app.add_option("lot", shown->lot, "the lot's label")->required();
  tree.action(show_app, [shown](Context& context) { show(context, *shown); });
  CLI::App& fit_app = tree.command_under(
      app, "fit",
      {"", "growth curves fitted to a table of two columns, x and y",
       "Logistic, Gompertz, Richards and one that starts at 0, by least squares. Where the points\n"
       "do not carry the asymptote (its standard error is above half of it), that is said, and\n"
       "nothing is foretold beyond them.",
       "growth fit stems.csv\ngrowth fit stems.csv --curve gompertz --at 21"});
  const auto fitted = std::make_shared<FitWords>();
  fit_app
      .add_option("file", fitted->file, "x,y a line (CSV, blanks or tabs); # lines do not count")
      ->required();
  fit_app.add_option("--curve", fitted->curve, "only this one")
      ->check(CLI::IsMember({"logistic", "gompertz", "richards", "bounded"}));
  fit_app.add_option("--start", fitted->start, "first parameters: 100,1,0.1 (with --curve)");
  fit_app.add_option("--at", fitted->at, "the height at this x");
  tree.action(fit_app, [fitted](Context& context) { fit(context, *fitted); });
}

}  // namespace takehold::client
