#include "client/command/what_if.hpp"

#include <fmt/format.h>

#include "client/command/context.hpp"
#include "client/terminal/numbers.hpp"
#include "client/terminal/table.hpp"

namespace takehold::client {
namespace {

[[noreturn]] void refuse(const std::string& typed) {
  throw WrongUsage(
      {"bad-what-if", fmt::format("\"{}\" is no change that can be tried", typed), "", typed,
       "confidence=0.95, ready_on=2027-05-20, bench=72F, bench_degc=22, window_days=3, "
       "tolerance_pct=15, want:P1=8 or seed:IF-26=60"});
}

// With or without its unit; a share may be told in percent.
double number(const std::string& text, const std::string& typed, double least, double most,
              std::string_view unit) {
  const auto number = parse_typed(text, typed);
  if (!number || !(number->suffix.empty() || number->suffix == unit)) refuse(typed);
  const double value =
      unit == "%" && number->suffix == unit && most < 1 ? number->value / 100 : number->value;
  if (!(value >= least && value <= most)) refuse(typed);
  return value;
}

Celsius temperature(const std::string& text, const std::string& typed, Units units) {
  const auto value = parse_temperature(text, units, typed);
  if (!value || !(value->degc() >= 0 && value->degc() <= 45)) refuse(typed);
  return *value;
}

void change_bench(PlanRequest& request, Celsius temperature) {
  if (request.benches.empty()) request.benches.push_back({});
  for (Bench& bench : request.benches) bench.day = bench.night = temperature;
}

void change_want(PlanRequest& request, const std::string& name, int want,
                 const std::string& typed) {
  for (Pairing& pairing : request.pairings) {
    if (pairing.id != name && pairing.names() != name) continue;
    pairing.want = want;
    return;
  }
  refuse(typed);
}

void change_seed(PlanRequest& request, const std::string& label, int seeds,
                 const std::string& typed) {
  for (Lot& lot : request.lots) {
    if (lot.label != label) continue;
    lot.packet_seeds = lot.packet_seeds.value_or(lot.seeds);  // the price stays that of a packet
    lot.seeds = seeds;
    request.on_hand[label] = seeds;
    return;
  }
  refuse(typed);
}

void change_one(PlanRequest& request, const std::string& typed, Units units) {
  const std::size_t equals = typed.rfind('=');
  if (equals == std::string::npos) refuse(typed);
  const std::string key = typed.substr(0, equals), value = typed.substr(equals + 1);
  const auto between = [&](double least, double most, std::string_view unit = "") {
    return number(value, typed, least, most, unit);
  };
  if (key == "confidence") {
    request.season.confidence = between(0.01, 0.999, "%");
  } else if (key == "ready_on") {
    const auto day = sensors::parse_day(value);
    if (!day) refuse(typed);
    request.season.ready_on = *day;
  } else if (key == "bench") {
    change_bench(request, temperature(value, typed, units));
  } else if (key == "bench_degc") {
    change_bench(request, temperature(value, typed, Units::metric));
  } else if (key == "window_days") {
    request.season.window_days = static_cast<int>(between(0, 14, "d"));
  } else if (key == "tolerance_pct") {
    request.season.tolerance_pct = between(0, 200, "%");
  } else if (key.starts_with("want:")) {
    change_want(request, key.substr(5), static_cast<int>(between(1, 10000)), typed);
  } else if (key.starts_with("seed:")) {
    change_seed(request, key.substr(5), static_cast<int>(between(0, 1e6)), typed);
  } else {
    refuse(typed);
  }
}

int seeds_of(const std::vector<ProposedSowing>& sowings) {
  int sum = 0;
  for (const ProposedSowing& sowing : sowings) sum += sowing.seeds;
  return sum;
}

std::string both(const std::string& now, const std::string& then) {
  return now == then ? now : now + " > " + then;
}

double cost_of(const SeasonPlan& plan) {
  double sum = 0;
  for (const PlannedPairing& pairing : plan.pairings) sum += pairing.cost;
  return sum;
}

}  // namespace

void change(PlanRequest& request, const std::vector<std::string>& typed, Units units) {
  for (const std::string& one : typed) change_one(request, one, units);
}

std::string what_if_text(const SeasonPlan& now, const SeasonPlan& then,
                         const std::vector<std::string>& typed, const TerminalStyle& style) {
  std::string text = "What if";
  for (const std::string& one : typed) text += " " + one;
  Table table({{"pairing"},
               {"root seeds", Align::right},
               {"scion seeds", Align::right},
               {"grafts", Align::right},
               {"graft on", Align::right},
               {"chance", Align::right}});
  const auto day = [](const PlannedPairing& pairing) {
    return pairing.graft_on ? sensors::to_string(*pairing.graft_on) : std::string("cannot be");
  };
  for (std::size_t i = 0; i < now.pairings.size() && i < then.pairings.size(); ++i) {
    const PlannedPairing &a = now.pairings[i], &b = then.pairings[i];
    table.add(
        {a.scion + "/" + a.rootstock,
         both(std::to_string(seeds_of(a.rootstock_sowings)),
              std::to_string(seeds_of(b.rootstock_sowings))),
         both(std::to_string(seeds_of(a.scion_sowings)), std::to_string(seeds_of(b.scion_sowings))),
         both(std::to_string(a.grafts), std::to_string(b.grafts)), both(day(a), day(b)),
         both(fmt::format("{:.0f} %", 100 * a.probability),
              fmt::format("{:.0f} %", 100 * b.probability))});
  }
  return text + " (now > then)\n" + table.text(style) +
         fmt::format("cost of all pairings: {:.2f} > {:.2f}\n", cost_of(now), cost_of(then));
}

}  // namespace takehold::client
