// `takehold forecast`: when the stems of each pairing will match, how sure, what would help.
#include "client/forecast/forecast.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "client/command/batch_view.hpp"
#include "client/command/command_tree.hpp"
#include "client/command/forecast_request.hpp"
#include "client/command/forecast_text.hpp"
#include "client/command/recording.hpp"
#include "client/terminal/text_width.hpp"
#include "daemon/healing/regime_toml.hpp"

namespace takehold::client {
namespace {

using nlohmann::json;

struct Words {
  std::string about;
  int seasons = 1000;
  bool no_advice = false;
};

/// The pairings that are meant: one by name, those that a sowing is for, or all (empty).
std::vector<std::string> meant(const Book& book, const std::string& about) {
  if (about.empty()) return {};
  if (kind_of_key(about) != Kind::sowing) return {find_pairing(book, about).id};
  const Sowing sowing = find_numbered<Sowing>(book, about);
  if (!sowing.pairings.empty()) return sowing.pairings;
  const auto lot = book.find<Lot>(sowing.lot);
  std::vector<std::string> ids;
  for (const Pairing& pairing : book.all<Pairing>()) {
    if (lot && (pairing.scion == lot->variety || pairing.rootstock == lot->variety)) {
      ids.push_back(pairing.id);
    }
  }
  if (ids.empty()) refuse("not-grafted", "it is for no pairing", sowing.id);
  return ids;
}

void note_planned(const BookForecast& known, Context& context) {
  if (known.planned.empty()) return;
  context.out.note({"counted-as-sown", "",
                    fmt::format("{} still to be sown: counted as sown on the planned day, or "
                                "today if that is over",
                                known.planned.size() == 1 ? "1 planned sowing is"
                                                          : fmt::format("{} planned sowings are",
                                                                        known.planned.size()))});
}

json document_of(const std::vector<PairingForecast>& told, const TerminalStyle& style) {
  json list = json::array();
  for (const PairingForecast& one : told) {
    json document = one;
    for (std::size_t i = 0; i < one.advice.size(); ++i) {
      document["advice"][i]["text"] = advice_text(one.advice[i], style);
    }
    list.push_back(std::move(document));
  }
  json document = list.size() == 1 ? list.front() : json::object();
  document["forecasts"] = std::move(list);
  return document;
}

void run_forecast(Context& context, const Words& words) {
  Book book = open_book(context, BookUse::reading);
  const Season season = season_in(book);
  fetch_bench_hours(context, book);
  const auto ids = meant(book, words.about);
  auto known = forecast_request(book, context.now,
                                daemon::find_regime(season.regime, regime_folders()).value(), ids);
  known.request.seasons = words.seasons;
  auto told = forecast(known.request, {!words.no_advice});
  if (!ids.empty()) {
    std::erase_if(told, [&](const PairingForecast& one) {
      return std::find(ids.begin(), ids.end(), one.id) == ids.end();
    });
  }
  if (told.empty()) {
    refuse("nothing-sown", "nothing is sown or planned for a graft", words.about,
           "takehold plan --accept, or takehold sow");
  }
  for (const PairingForecast& one : told) {
    context.out.text(forecast_text(one, told.size() == 1, context.out.style()));
  }
  if (told.size() > 1) context.out.line("Day by day: takehold forecast P1");
  note_warmth(known.warmth, context);
  note_planned(known, context);
  context.out.document(document_of(told, context.out.style()));
}

}  // namespace

void add_forecast(CommandTree& tree) {
  CLI::App& app = tree.command(
      "forecast",
      {kDaily, "when stems will match, how sure that is, and what would help",
       "From what was counted and measured so far, over simulated seasons: the best day to graft\n"
       "each pairing, the pairs that will match then, and what came of the plan's promise. Each\n"
       "piece of advice was tried out on the same seasons; it is told only where it gains. "
       "Assumed\n"
       "is that you graft on the best day, so look at the stems daily when it comes near.",
       "forecast\nforecast P1\nforecast S3 --json"});
  const auto words = std::make_shared<Words>();
  app.add_option("about", words->about, "a pairing, as P1 or \"Scion/Rootstock\", or a sowing");
  app.add_option("--seasons", words->seasons, "seasons simulated (1000)")
      ->check(CLI::Range(100, 20000));
  app.add_flag("--no-advice", words->no_advice, "only the days: quicker");
  tree.action(app, [words](Context& context) { run_forecast(context, *words); });
}

}  // namespace takehold::client
