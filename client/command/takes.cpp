#include "client/command/takes.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "client/command/command_tree.hpp"
#include "client/command/opened_book.hpp"
#include "client/command/takes_of_book.hpp"
#include "client/command/text_file.hpp"
#include "client/terminal/numbers.hpp"
#include "client/terminal/table.hpp"

namespace takehold::client {

using nlohmann::json;

namespace {

json row_json(const TakeRow& row) {
  return {{"pairing", row.pairing},
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
  for (const auto& row : take_rows(record.pairings)) rows.push_back(row_json(row));
  return {{"rows", std::move(rows)},
          {"prior", prior_json()},
          {"pending", pending_json(record.pending)}};
}

std::string takes_text(const TakeRecord& record, const TerminalStyle& style) {
  Table table({{"pairing"},
               {"grafted", Align::right},
               {"taken", Align::right},
               {"likely, %", Align::right},
               {"9 years in 10, %", Align::right},
               {"these counts alone, %", Align::right}});
  for (const auto& row : take_rows(record.pairings)) {
    table.add({row.pairing, fmt::format("{}", row.grafted), fmt::format("{}", row.taken),
               percent(row.mean), percent(row.p05) + "-" + percent(row.p95),
               percent(row.wilson_low) + "-" + percent(row.wilson_high)});
  }
  const std::string text = table.text(style) + pending_text(record.pending);
  return text.empty() ? "No graft has been scored yet.\n" : text;
}

TakeRecord take_record(const std::string& file, Context& context) {
  if (file.empty()) return takes_of(open_book(context, BookUse::reading));
  return record_of(read_outcomes(read_text_file(file), file));
}

void add_takes(CommandTree& tree) {
  CLI::App& app = tree.command(
      "takes", {kLearning, "how many grafts of each pairing live, and how sure that is",
                "Few grafts leave a wide range; each pairing also learns from all the others.\n"
                "Grafts younger than 6 days count nowhere yet.",
                "takes\ntakes --from results.csv"});
  const auto from = std::make_shared<std::string>();
  app.add_option("--from", *from, "a table of your own: pairing,grafted,taken");
  tree.action(app, [from](Context& context) {
    const TakeRecord record = take_record(*from, context);
    context.out.text(takes_text(record, context.out.style()));
    context.out.document(takes_json(record));
  });
}

}  // namespace takehold::client
