#include "client/command/takes.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "client/command/batch_fates.hpp"
#include "client/command/command_tree.hpp"
#include "client/command/opened_book.hpp"
#include "client/command/text_file.hpp"
#include "client/terminal/interval_bar.hpp"
#include "client/terminal/numbers.hpp"
#include "client/terminal/table.hpp"

namespace takehold::client {

using nlohmann::json;

namespace {

constexpr int kBar = 21;       // columns of an interval drawn: five points each
constexpr int kShortBar = 11;  // where names need the room
constexpr int kWide = 100;     // where the interval of the counts alone has room, too

json row_json(const TakeRow& row, GroupBy by) {
  return {{"group", row.pairing},
          {"pairing", by == GroupBy::pairing ? json(row.pairing) : json()},
          {"grafted", row.grafted},
          {"taken", row.taken},
          {"rate", row.rate ? json(*row.rate) : json()},
          {"mean", row.mean},
          {"p05", row.p05},
          {"p95", row.p95},
          {"wilson_low", row.wilson_low},
          {"wilson_high", row.wilson_high}};
}

json prior_json() {
  const TakePrior prior;
  const TakeRow row = prior_row(prior);
  return {{"mean", row.mean},
          {"p05", row.p05},
          {"p95", row.p95},
          {"log_ratio_mean", prior.log_ratio_mean},
          {"log_ratio_sd", prior.log_ratio_sd},
          {"log_weight_mean", prior.log_weight_mean},
          {"log_weight_sd", prior.log_weight_sd}};
}

json pending_json(const std::vector<PendingBatch>& pending) {
  json list = json::array();
  for (const auto& batch : pending) {
    list.push_back({{"batch", batch.batch}, {"pairing", batch.pairing}, {"grafts", batch.grafts}});
  }
  return list;
}

std::string percent(double share) {
  return fixed(share * 100.0, 0);
}

std::string pending_text(const std::vector<PendingBatch>& pending) {
  std::string text;
  for (const auto& batch : pending) {
    text += fmt::format("not counted yet: {} {}, {}\n", batch.batch, batch.pairing,
                        counted(batch.grafts, "graft", "grafts"));
  }
  return text;
}

}  // namespace

TakeRecord record_of(const std::vector<OutcomeRow>& outcomes) {
  TakeRecord record;
  for (const auto& row : outcomes) {
    record.pairings.push_back({row.pairing, Tally{row.taken, row.grafted}});
  }
  return record;
}

json takes_json(const TakeRecord& record) {
  json rows = json::array();
  for (const auto& row : take_rows(record.pairings)) rows.push_back(row_json(row, record.by));
  return {{"by", std::string(to_text(record.by))},
          {"rows", std::move(rows)},
          {"prior", prior_json()},
          {"pending", pending_json(record.pending)}};
}

std::string takes_text(const TakeRecord& record, const TerminalStyle& style) {
  const bool wide = style.width >= kWide;
  std::vector<Column> columns{{std::string(to_text(record.by))},
                              {"grafted", Align::right},
                              {"taken", Align::right},
                              {"likely, %", Align::right},
                              {"9 in 10, %", Align::right},
                              {wide ? "0        50       100" : "0   50  100", Align::right}};
  if (wide) columns.push_back({"these counts alone, %", Align::right});
  Table table(columns);
  for (const auto& row : take_rows(record.pairings)) {
    std::vector<std::string> cells{
        row.pairing,
        fmt::format("{}", row.grafted),
        fmt::format("{}", row.taken),
        percent(row.mean),
        percent(row.p05) + "-" + percent(row.p95),
        interval_bar(row.p05, row.mean, row.p95, wide ? kBar : kShortBar, style)};
    if (wide) cells.push_back(percent(row.wilson_low) + "-" + percent(row.wilson_high));
    table.add(std::move(cells));
  }
  std::string text = table.text(style);
  if (text.empty()) text = "No graft has been scored yet.\n";
  return text + pending_text(record.pending);
}

TakeRecord take_record(const TakeSource& source, Context& context) {
  const auto by = from_text<GroupBy>(source.by);
  if (!by) {
    throw WrongUsage({"unknown-word", "takes are not gathered by \"" + source.by + "\"", "", "--by",
                      choices<GroupBy>()});
  }
  if (source.file.empty()) return takes_of(open_book(context, BookUse::reading), *by);
  if (*by != GroupBy::pairing) {
    throw WrongUsage({"not-with-a-table",
                      "a table of your own is gathered by its first column only", "", "--by",
                      "leave out --by, or --from"});
  }
  return record_of(read_outcomes(read_text_file(source.file), source.file));
}

void add_take_source(CLI::App& app, TakeSource& source) {
  app.add_option("--from", source.file, "a table of your own: pairing,grafted,taken");
  app.add_option("--by", source.by, "gathered by " + choices<GroupBy>());
}

void add_takes(CommandTree& tree) {
  CLI::App& app = tree.command(
      "takes", {kLearning, "how many grafts live, and how sure that is",
                "Few grafts leave a wide range; each pairing also learns from all the others.\n"
                "Nine times in ten the true share lies in the range shown. Grafts younger than\n"
                "6 days count nowhere yet.",
                "takes\ntakes --by rootstock\ntakes --from results.csv"});
  const auto source = std::make_shared<TakeSource>();
  add_take_source(app, *source);
  tree.action(app, [source](Context& context) {
    const TakeRecord record = take_record(*source, context);
    if (context.out.is_json()) {
      context.out.document(takes_json(record));
    } else {
      context.out.text(takes_text(record, context.out.style()));
    }
  });
}

}  // namespace takehold::client
