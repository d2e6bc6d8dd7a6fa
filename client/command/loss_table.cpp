#include "client/command/loss_table.hpp"

#include <fmt/format.h>

#include <map>
#include <nlohmann/json.hpp>

#include "client/terminal/table.hpp"

namespace takehold::client {

using nlohmann::json;

namespace {

struct DaySpan {
  const char* head;
  int first, last;
};
// The stages of healing as most plans have them: closed, venting, shaded, hardening and after.
constexpr DaySpan kSpans[] = {
    {"day 0-2", 0, 2}, {"3-6", 3, 6}, {"7-13", 7, 13}, {"later", 14, 1 << 30}};

using LossTable = std::map<Cause, std::map<int, int>>;  // by cause, by day

LossTable losses_of(std::span<const BatchFate> batches) {
  LossTable table;
  for (const BatchFate& batch : batches) {
    for (const LossNote& loss : batch.losses) table[loss.cause][loss.day] += loss.count;
  }
  return table;
}

std::string failures_text(const LossTable& losses, const TerminalStyle& style) {
  if (losses.empty()) return "No graft has been lost.\n";
  std::vector<Column> columns{{"lost to"}};
  for (const DaySpan& span : kSpans) columns.push_back({span.head, Align::right});
  columns.push_back({"all", Align::right});
  Table table(columns);
  for (const auto& [cause, days] : losses) {
    std::vector<std::string> cells{std::string(to_text(cause))};
    int all = 0;
    for (const DaySpan& span : kSpans) {
      int count = 0;
      for (const auto& [day, lost] : days)
        count += span.first <= day && day <= span.last ? lost : 0;
      cells.push_back(count > 0 ? std::to_string(count) : "-");
      all += count;
    }
    cells.push_back(std::to_string(all));
    table.add(std::move(cells));
  }
  return "Grafts lost, by cause and by days after grafting\n" + table.text(style);
}

using LateTable = std::map<std::pair<LateLoss, Cause>, int>;

LateTable later_losses_of(std::span<const BatchFate> batches) {
  LateTable table;
  for (const BatchFate& batch : batches) {
    for (const LossNote& loss : batch.later_losses) {
      table[{loss.late.value_or(LateLoss::bed), loss.cause}] += loss.count;
    }
  }
  return table;
}

std::string later_text(const LateTable& losses) {
  std::string text;
  for (const auto& [what, count] : losses) {
    text += fmt::format("{}{} {}, {}", text.empty() ? "Lost after they had taken: " : "; ", count,
                        what.first == LateLoss::bed ? "in the bed" : "while hardening",
                        to_text(what.second));
  }
  return text.empty() ? "" : text + ".\n";
}

}  // namespace

json losses_json(std::span<const BatchFate> batches) {
  json list = json::array();
  for (const auto& [cause, days] : losses_of(batches)) {
    for (const auto& [day, count] : days) {
      list.push_back({{"cause", std::string(to_text(cause))}, {"day", day}, {"count", count}});
    }
  }
  return list;
}

json later_losses_json(std::span<const BatchFate> batches) {
  json list = json::array();
  for (const auto& [what, count] : later_losses_of(batches)) {
    list.push_back({{"stage", std::string(to_text(what.first))},
                    {"cause", std::string(to_text(what.second))},
                    {"count", count}});
  }
  return list;
}

std::string losses_text(std::span<const BatchFate> batches, const TerminalStyle& style) {
  return failures_text(losses_of(batches), style) + later_text(later_losses_of(batches));
}

}  // namespace takehold::client
