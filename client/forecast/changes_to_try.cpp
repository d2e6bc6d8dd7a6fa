#include "client/forecast/changes_to_try.hpp"

#include <algorithm>
#include <cmath>

#include "client/plan/work_days.hpp"

namespace takehold::client {
namespace {

// Colder than this young tomato plants are chilled (common practice).
constexpr Celsius kChill = Celsius::degc(12);
constexpr double kCooler[] = {2, 4, 6};  // kelvin
constexpr int kCoolDays[] = {2, 3, 5, 7};
constexpr int kTopUps[] = {4, 8, 12, 18, 24, 36};
constexpr int kSoonestWave = 14;  // days before any seedling can be graftable, at 24 degC
constexpr int kMostSessions = 10;
constexpr double kSameBench = 1;  // kelvin: a bench this near serves as the one asked for

const std::vector<TrayShare>& side_of(const ForecastPairing& pairing, Side side) {
  return side == Side::rootstock ? pairing.rootstocks : pairing.scions;
}

double mean_after(const ForecastTray& tray, int days) {
  const auto from = static_cast<std::size_t>(std::max(0.0, tray.age.count() * 24));
  double sum = 0;
  std::size_t hours = 0;
  for (std::size_t i = from; i < tray.hourly.size() && i < from + 24U * days; ++i, ++hours) {
    sum += tray.hourly[i].degc();
  }
  return hours == 0 ? NAN : sum / static_cast<double>(hours);
}

bool is_in_tray(const ForecastTray& tray) {
  return tray.age.count() >= 0;
}

/// The tray with its next days cooler; none of its hours below the chill.
void cool(ForecastTray& tray, double kelvin, int days) {
  const auto from = static_cast<std::size_t>(tray.age.count() * 24);
  const std::size_t to = std::min(tray.hourly.size(), from + 24U * static_cast<std::size_t>(days));
  for (std::size_t hour = from; hour < to; ++hour) {
    const Celsius cooler = tray.hourly[hour] - sensors::TemperatureSpan::kelvin(kelvin);
    tray.hourly[hour] = std::max(cooler, std::min(kChill, tray.hourly[hour]));
  }
  tray.seen.course = std::make_shared<Course>(tray.hourly);
}

std::string bench_near(const ForecastRequest& request, double degc) {
  for (const Bench& bench : request.benches) {
    if (std::abs(bench.mean().degc() - degc) <= kSameBench) return bench.name;
  }
  return "";
}

void add_cooler(const ForecastRequest& request, const ForecastPairing& pairing, Side side,
                std::vector<Advice>& into) {
  Advice advice;
  advice.kind = AdviceKind::cooler;
  advice.side = side;
  double mean = 0;
  for (const TrayShare& share : side_of(pairing, side)) {
    const ForecastTray& tray = request.trays[share.tray];
    if (!is_in_tray(tray)) continue;
    advice.trays.push_back(tray.id);
    mean = mean_after(tray, kCoolDays[0]);
  }
  if (advice.trays.empty()) return;
  for (const double kelvin : kCooler) {
    if (mean - kelvin < kChill.degc()) continue;
    for (const int days : kCoolDays) {
      advice.cooler_kelvin = kelvin;
      advice.days = days;
      advice.bench = bench_near(request, mean - kelvin);
      into.push_back(advice);
    }
  }
}

void add_top_ups(const ForecastRequest& request, const ForecastPairing& pairing, Side side,
                 std::vector<Advice>& into) {
  if (pairing.last_on < request.today + std::chrono::days(kSoonestWave)) return;
  if (!is_work_day(request.season, request.today)) return;
  const std::string& variety = side == Side::rootstock ? pairing.rootstock : pairing.scion;
  const ForecastLot* most = nullptr;
  for (const ForecastLot& lot : request.lots) {
    if (lot.variety == variety && (!most || lot.on_hand > most->on_hand)) most = &lot;
  }
  if (!most) return;
  for (const int seeds : kTopUps) {
    if (seeds > most->on_hand) break;
    Advice advice;
    advice.kind = AdviceKind::top_up;
    advice.side = side;
    advice.lot = most->label;
    advice.seeds = seeds;
    into.push_back(advice);
  }
}

void add_sessions(const ForecastRequest& request, const ForecastPairing& pairing,
                  std::vector<Advice>& into) {
  int sessions = 0;
  for (Day day = request.today; day < pairing.last_on && sessions < kMostSessions;
       day += std::chrono::days(1)) {
    if (!is_work_day(request.season, day)) continue;
    ++sessions;
    Advice advice;
    advice.kind = AdviceKind::in_two;
    advice.on = day;
    into.push_back(advice);
  }
}

ForecastTray top_up_tray(const ForecastRequest& request, const Advice& advice) {
  const auto lot = std::find_if(request.lots.begin(), request.lots.end(),
                                [&](const ForecastLot& one) { return one.label == advice.lot; });
  BenchCycle bench;
  if (!request.benches.empty()) {
    const Bench& first = request.benches.front();
    bench = {first.day, first.night, first.day_hours};
  }
  ForecastTray tray;
  tray.id = "top-up " + advice.lot;
  tray.lot = static_cast<std::size_t>(lot - request.lots.begin());
  tray.hourly = hourly_from_noon(bench, std::chrono::days(request.days));
  tray.seen.course = std::make_shared<Course>(tray.hourly);
  tray.seen.seeds = advice.seeds;
  tray.sown_on = request.today;
  return tray;
}

}  // namespace

std::vector<Advice> changes_to_try(const ForecastRequest& request, const ForecastPairing& pairing) {
  std::vector<Advice> all;
  for (const Side side : {Side::rootstock, Side::scion}) {
    add_cooler(request, pairing, side, all);
    add_top_ups(request, pairing, side, all);
  }
  add_sessions(request, pairing, all);
  return all;
}

ForecastRequest changed(const ForecastRequest& request, const Advice& advice, const Cohort& cohort,
                        std::size_t pairing) {
  ForecastRequest changed = request;
  if (advice.kind == AdviceKind::cooler) {
    for (const TrayShare& share : side_of(request.pairings[pairing], advice.side)) {
      ForecastTray& tray = changed.trays[share.tray];
      if (is_in_tray(tray)) cool(tray, advice.cooler_kelvin, advice.days);
    }
  } else if (advice.kind == AdviceKind::top_up) {
    const TrayShare whole{changed.trays.size()};
    changed.trays.push_back(top_up_tray(request, advice));
    if (advice.side == Side::scion) {
      changed.pairings[pairing].scions.push_back(whole);
    } else {
      for (const std::size_t member : cohort) changed.pairings[member].rootstocks.push_back(whole);
    }
  }
  return changed;
}

}  // namespace takehold::client
