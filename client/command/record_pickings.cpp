// Pickings checked against the plants they are from, and recorded.
#include <fmt/format.h>

#include <map>

#include "client/command/grown.hpp"
#include "client/command/harvest_session.hpp"
#include "client/season/ranges.hpp"
#include "client/terminal/numbers.hpp"

namespace takehold::client {
namespace {

[[noreturn]] void refuse_at(const Picking& picking, const char* code, std::string title,
                            std::string hint = "") {
  refuse(code, std::move(title), picking.where, std::move(hint));
}

void check_weight(const Picking& picking) {
  const Kilograms most = picking.plant ? kMostOfPlant : kMostPicked;
  if (picking.weight > Kilograms::kg(0) && picking.weight <= most) return;
  refuse_at(picking, "out-of-range",
            fmt::format("a picking weighs more than 0 and at most {:g} kg{}", most.kg(),
                        picking.plant ? " of one plant" : ""),
            "grams are typed as 850g");
}

/// The one batch or sowing that the bed holds; none: it holds several, or nothing was set out.
std::string only_subject(const Book& book, const std::string& bed) {
  std::string only;
  for (const SetOut& planted : book.all<SetOut>()) {
    if (planted.bed != bed || planted.subject == only) continue;
    if (!only.empty()) return "";
    only = planted.subject;
  }
  return only;
}

Harvest of_bed(const Telling& telling, const Picking& picking) {
  if (picking.plant) {
    refuse_at(picking, "bad-picking", "plants have numbers in their batch or sowing, not in a bed",
              "as G3 4=1.25");
  }
  Harvest record;
  record.bed = typed_bed(telling.book, picking.from);
  record.subject = only_subject(telling.book, record.bed);
  return record;
}

Harvest of_subject(const Telling& telling, const Picking& picking) {
  const GrownPlants plants = grown_plants(telling.book, picking.from);
  if (picking.plant && *picking.plant > plants.numbers) {
    refuse_at(picking, "no-such-graft",
              fmt::format("the plants of {} are numbered 1 to {}", plants.subject, plants.numbers));
  }
  Harvest record;
  record.subject = plants.subject;
  record.plant = picking.plant;
  return record;
}

Harvest drafted(const Telling& telling, const Picking& picking) {
  check_weight(picking);
  const auto kind = kind_of_key(picking.from);
  const bool numbered = kind == Kind::batch || kind == Kind::sowing;
  Harvest record = numbered ? of_subject(telling, picking) : of_bed(telling, picking);
  record.at = telling.at;
  if (picking.on) {
    const TypedWhen when{sensors::to_string(*picking.on), std::nullopt};
    record.at = instant_of(when, telling.book, telling.now);
  }
  record.weight = picking.weight;
  record.fruits = picking.fruits;
  record.note = telling.note;
  return record;
}

}  // namespace

std::vector<Harvest> harvest(const Telling& telling, const std::vector<Picking>& pickings,
                             const std::string& words) {
  std::vector<Harvest> records;
  for (const Picking& picking : pickings) {
    try {
      records.push_back(drafted(telling, picking));
    } catch (const sensors::Refused& refused) {
      auto problem = refused.problem();
      problem.where = picking.where;
      throw sensors::Refused(std::move(problem));
    }
  }
  telling.book.record(words, telling.now, [&](Recorder& r) {
    for (Harvest& record : records) {
      record.id = r.next_number(Kind::harvest);
      r.put(record);
    }
  });
  return records;
}

std::string harvest_text(const std::vector<Harvest>& records, Units units) {
  struct Sum {
    Kilograms weight = Kilograms::kg(0);
    int pickings = 0, fruits = 0;
  };
  std::map<std::string, Sum> sums;
  for (const Harvest& record : records) {
    Sum& sum = sums[record.subject.empty() ? record.bed : record.subject];
    sum.weight = sum.weight + record.weight;
    ++sum.pickings;
    sum.fruits += record.fruits.value_or(0);
  }
  std::string text;
  for (const auto& [from, sum] : sums) {
    text += fmt::format("{}: {}", from, shown(sum.weight, units));
    if (sum.fruits > 0) text += ", " + counted(sum.fruits, "fruit", "fruits");
    if (sum.pickings > 1) text += fmt::format(", {} pickings", sum.pickings);
    text += '\n';
  }
  return text;
}

}  // namespace takehold::client
