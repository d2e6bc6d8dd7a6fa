#include "sensors/sim/scene.hpp"

#include <algorithm>
#include <charconv>
#include <string>

#include "sensors/sim/dice.hpp"

namespace takehold::sensors {
namespace {

using std::chrono::seconds;

constexpr double kDoorChangesPerH = 120.0;  // the air is gone in half a minute
constexpr double kAjarChangesPerH = 20.0;
constexpr double kLeakChangesPerH = 5.0;
constexpr double kSprayGPerS = 0.2;
constexpr double kLeafBelowAirK = 0.4;
constexpr double kRoomCo2Ppm = 430.0;
constexpr double kDayCo2Ppm = 520.0;  // the soil breathes out, the leaves take some
constexpr double kNightCo2Ppm = 900.0;
constexpr double kShadedUmol = 40.0;
constexpr std::uint64_t kNoiseStream = 0x901'5e;

seconds time_of_day(Instant at) {
  return std::chrono::floor<seconds>(at - std::chrono::floor<Days>(at));
}

}  // namespace

Result<void> check(const SceneSettings& settings) {
  for (const auto& fault : settings.faults) {
    if (is_of_probe(fault.kind) && fault.probe > settings.probes) {
      return Problem{
          "no-probe", "a fault is of a probe that is not there",
          "probe " + std::to_string(fault.probe) + " of " + std::to_string(settings.probes), "",
          ""};
    }
  }
  return check(settings.chamber);
}

Result<Opening> parse_opening(std::string_view text) {
  double pct = 0;
  std::int64_t from = 0, length = 0;
  const char* end = text.data() + text.size();
  auto read = std::from_chars(text.data(), end, pct);
  bool good = read.ec == std::errc() && read.ptr != end && *read.ptr == '@';
  if (good) read = std::from_chars(read.ptr + 1, end, from);
  good = good && read.ec == std::errc() && read.ptr != end && *read.ptr == '+';
  if (good) read = std::from_chars(read.ptr + 1, end, length);
  good = good && read.ec == std::errc() && read.ptr == end && pct >= 20 && pct <= 100 &&
         from >= 0 && length > 0;
  if (!good) {
    return Problem{"bad-opening", "not an opening", "\"" + std::string(text) + "\"", "",
                   "write PCT@SECONDS+SECONDS with 20 to 100 %, as 73@259200+345600"};
  }
  return Opening{seconds(from), seconds(length), RelativeHumidity::pct(pct)};
}

Scene::Scene(const SceneSettings& settings)
    : settings_(settings), chamber_(settings.chamber, time_of_day(settings.start)) {
  for (int i = 0; i < settings.probes; ++i) {
    probes_.emplace_back(probe_of_number(settings.seed, i),
                         mixed(settings.seed, kNoiseStream, std::uint64_t(i)), chamber_);
  }
}

void Scene::advance_to(Instant now) {
  const auto wanted = std::chrono::floor<seconds>(now - settings_.start);
  while (since_start_ < wanted) {
    since_start_ += seconds(1);
    chamber_.set_humidity(set_humidity());
    chamber_.step_one_second(upset());
    for (int i = 0; i < probes(); ++i) {
      probes_[std::size_t(i)].step_one_second(chamber_, faults_of(i));
    }
  }
}

std::optional<Decoded> Scene::says(int probe) const {
  auto says = probes_.at(std::size_t(probe)).says();
  if (says && settings_.extras) says->extras = extras();
  return says;
}

Extras Scene::extras() const {
  const auto second = time_of_day(settings_.start + since_start_);
  const auto& room = settings_.chamber.room;
  const bool day = second >= room.day_from && second < room.day_to;
  const bool open = upset().more_air_changes_per_h >= kAjarChangesPerH;
  return {chamber_.temperature() - TemperatureSpan::kelvin(kLeafBelowAirK),
          CarbonDioxide::ppm(open  ? kRoomCo2Ppm
                             : day ? kDayCo2Ppm
                                   : kNightCo2Ppm),
          PhotonFlux::umol(day ? kShadedUmol : 0.0)};
}

RelativeHumidity Scene::set_humidity() const {
  const RelativeHumidity closed = settings_.chamber.set_humidity;
  if (!settings_.opening) return closed;
  const auto& [from, length, to] = *settings_.opening;
  const auto gone = std::clamp(since_start_ - from, seconds(0), length);
  const double part = double(gone.count()) / double(length.count());
  return RelativeHumidity::pct(closed.pct() + part * (to.pct() - closed.pct()));
}

Upset Scene::upset() const {
  Upset upset;
  for (const auto& fault : settings_.faults) {
    if (!fault.is_on(since_start_)) continue;
    switch (fault.kind) {
      case FaultKind::door:
        upset.more_air_changes_per_h += kDoorChangesPerH;
        break;
      case FaultKind::ajar:
        upset.more_air_changes_per_h += kAjarChangesPerH;
        break;
      case FaultKind::leak:
        upset.more_air_changes_per_h += kLeakChangesPerH;
        break;
      case FaultKind::dry:
        upset.humidifier_fails = true;
        break;
      case FaultKind::soak:
        upset.humidifier_sticks = true;
        break;
      case FaultKind::cold:
        upset.heater_fails = true;
        break;
      case FaultKind::hot:
        upset.heater_sticks = true;
        break;
      case FaultKind::mist:
        upset.spray_g_per_s += kSprayGPerS;
        break;
      default:
        break;  // of a probe
    }
  }
  return upset;
}

ProbeFaults Scene::faults_of(int probe) const {
  ProbeFaults faults;
  for (const auto& fault : settings_.faults) {
    if (!is_of_probe(fault.kind) || fault.probe != probe + 1 || !fault.is_on(since_start_))
      continue;
    faults.silent |= fault.kind == FaultKind::silent;
    faults.stuck |= fault.kind == FaultKind::stuck;
    faults.wet |= fault.kind == FaultKind::wet;
    faults.jump |= fault.kind == FaultKind::jump;
    faults.off |= fault.kind == FaultKind::off;
    faults.wild |= fault.kind == FaultKind::wild;
  }
  return faults;
}

}  // namespace takehold::sensors
