// Healing plans as files: which there are, what they ask for day by day, and what is wrong with
// one.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "client/command/batch_view.hpp"
#include "client/command/command_tree.hpp"
#include "client/terminal/table.hpp"
#include "daemon/healing/asks.hpp"
#include "daemon/healing/regime_json.hpp"
#include "daemon/healing/regime_toml.hpp"

namespace takehold::client {
namespace {

using daemon::Band;
using daemon::Regime;

constexpr int kBarWidth = 30;

/// A band as a bar on a scale from `least` to `most`; what is not asked for is empty.
template <class Q>
std::string bar(const std::optional<Band<Q>>& band, double least, double most) {
  std::string text(kBarWidth, ' ');
  if (!band) return text;
  const auto cell = [&](Q value) {
    const double share = (daemon::number_of(value) - least) / (most - least);
    return std::clamp(int(std::lround(share * (kBarWidth - 1))), 0, kBarWidth - 1);
  };
  const int from = cell(band->low), to = cell(band->high);
  std::fill(text.begin() + from, text.begin() + to + 1, '=');
  return text;
}

template <class Q>
std::string span(const std::optional<Band<Q>>& band) {
  if (!band) return "";
  return fmt::format("{:.3g}-{:.3g}", daemon::number_of(band->low), daemon::number_of(band->high));
}

int days_of(const Regime& regime) {
  return int(std::chrono::ceil<std::chrono::days>(daemon::whole_length(regime)).count());
}

/// The plan at noon of a day, as if it began at midnight and nobody intervened.
daemon::StageNow stage_on(const Regime& regime, int day) {
  const sensors::Instant begin{};
  return daemon::stage_at(regime, begin, {}, begin + std::chrono::hours(24 * day + 12));
}

std::string day_table(const Regime& regime, const TerminalStyle& style) {
  const bool by_deficit = std::any_of(regime.stages.begin(), regime.stages.end(),
                                      [](const auto& stage) { return bool(stage.vapour_deficit); });
  Table table({{"day", Align::right},
               {"stage"},
               {"where"},
               {"degC"},
               {"10 " + std::string(kBarWidth - 5, '-') + " 30"},
               {by_deficit ? "kPa" : "%"},
               {by_deficit ? "0 " + std::string(kBarWidth - 5, '-') + " 1.5"
                           : "50 " + std::string(kBarWidth - 6, '-') + " 100"}});
  for (int day = 0; day < days_of(regime); ++day) {
    const auto now = stage_on(regime, day);
    if (now.over) break;
    const auto asks = daemon::asks_of(regime, now);
    table.add({std::to_string(day), std::string(daemon::stage_name(regime, now)),
               std::string(to_string(regime.stages[now.index].where)), span(asks.temperature),
               bar(asks.temperature, 10, 30),
               by_deficit ? span(asks.vapour_deficit) : span(asks.humidity),
               by_deficit ? bar(asks.vapour_deficit, 0, 1.5) : bar(asks.humidity, 50, 100)});
  }
  return table.text(style);
}

void print(const Regime& regime, Context& context) {
  Output& out = context.out;
  std::string methods;
  for (const auto& method : regime.methods) methods += (methods.empty() ? "" : ", ") + method;
  out.line(fmt::format("Healing plan {}, {} days{}", regime.name, days_of(regime),
                       methods.empty() ? "" : ", for " + methods + " grafts"));
  out.line("Bands at noon of each day; 0 is the day of grafting.");
  out.text(day_table(regime, out.style()));
  for (const auto& stage : regime.stages) {
    if (stage.tasks.empty()) continue;
    out.line(stage.name + ":");
    for (const auto& task : stage.tasks) out.line("  - " + task);
  }
  if (!regime.source.empty()) out.line("Where it comes from: " + regime.source);
}

nlohmann::json days_json(const Regime& regime) {
  auto days = nlohmann::json::array();
  for (int day = 0; day < days_of(regime); ++day) {
    const auto now = stage_on(regime, day);
    if (now.over) break;
    days.push_back({{"day", day},
                    {"stage", daemon::stage_name(regime, now)},
                    {"asks", daemon::asks_of(regime, now)}});
  }
  return days;
}

void show(const Regime& regime, Context& context) {
  print(regime, context);
  context.out.document({{"regime", regime}, {"days", days_json(regime)}});
}

void add_list(CommandTree& line, CLI::App& regime) {
  CLI::App& app = line.command_under(
      regime, "list", {"", "the healing plans that come with the program", "", "regime list"});
  line.action(app, [](Context& context) {
    Table table({{"name"}, {"days", Align::right}, {"first stage"}});
    auto document = nlohmann::json::array();
    for (const auto& name : daemon::built_in_regime_names()) {
      const auto found = daemon::find_regime(name, regime_folders()).value();
      const auto& first = found.stages.front();
      table.add({name, std::to_string(days_of(found)),
                 fmt::format("{} for {:g} h", first.name, double(first.length.count()) / 60)});
      document.push_back({{"name", name}, {"days", days_of(found)}, {"source", found.source}});
    }
    context.out.text(table.text(context.out.style()));
    context.out.document({{"regimes", document}});
  });
}

void add_show(CommandTree& line, CLI::App& regime) {
  CLI::App& app = line.command_under(regime, "show",
                                     {"", "what a healing plan asks for, day by day", "",
                                      "regime show steady\nregime show gentle"});
  const auto name = std::make_shared<std::string>("steady");
  app.add_option("name", *name, "a plan's name, or a file");
  line.action(app, [name](Context& context) {
    auto folders = regime_folders();
    folders.push_back(std::filesystem::current_path());
    show(daemon::find_regime(*name, folders).value(), context);
  });
}

void add_check(CommandTree& line, CLI::App& regime) {
  CLI::App& app = line.command_under(
      regime, "check",
      {"", "whether a file is a healing plan, and if not, what is wrong with it",
       "All mistakes are told at once, each with its line.", "regime check mine.toml"});
  const auto file = std::make_shared<std::string>();
  app.add_option("file", *file, "the file")->required();
  line.action(app, [file](Context& context) {
    const auto path = std::filesystem::absolute(*file).string();
    const bool named = path.ends_with(".toml");
    if (!named) {
      throw sensors::Refused(
          {"no-file", "a healing plan's file ends in .toml", "", *file, "rename it"});
    }
    show(daemon::find_regime(path, {}).value(), context);
  });
}

}  // namespace

void add_regime(CommandTree& line) {
  CLI::App& app = line.command(
      "regime",
      {kGrafting, "healing plans: what the air should be, day by day",
       "Plans are files. One of yours in the settings folder, or named with --regime, wins\n"
       "over one of the same name that comes with the program.",
       "regime list\nregime show steady"});
  add_list(line, app);
  add_show(line, app);
  add_check(line, app);
}

}  // namespace takehold::client
