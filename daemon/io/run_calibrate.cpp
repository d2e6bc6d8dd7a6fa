// A conversation: one jar after the other, then the line for the settings.

#include <fmt/format.h>

#include <cmath>
#include <iostream>

#include "daemon/io/poller.hpp"
#include "daemon/io/run.hpp"
#include "sensors/check/salt_calibration.hpp"

namespace takehold::daemon {

using sensors::Problem;
using sensors::Refused;
using sensors::Salt;
using sensors::SaltReading;
using sensors::Settling;

namespace {

constexpr auto kTellEvery = std::chrono::seconds(60);
constexpr int kFailuresInARow = 30;

const char* const kFirstWords = R"(Calibrating {} over saturated salt.

You need a jar that closes tightly for each salt, with a slurry of salt and a little clean water:
wet, but with solid salt left over. Keep jar, salt and probe at one steady temperature, 15 to 30
degC, away from sun and draught. The probe hangs above the slurry and must not touch it. Salts
irritate eyes and skin: wear gloves, wash your hands, keep the jars away from children and animals.
)";

/// The probe with its humidity as it tells it.
ProbeSettings told_by(const Settings& settings, const std::string& name) {
  for (auto probe : settings.probes) {
    if (probe.name != name) continue;
    if (std::holds_alternative<PushSource>(probe.source)) {
      throw Refused({"not-polled", "this probe sends its readings and cannot be asked", name, "",
                     "read it yourself and give --told NaCl=73.1@25 --told K2SO4=94.0@25"});
    }
    probe.calibration.humidity = {};
    return probe;
  }
  throw Refused({"unknown-probe", "the settings know no such probe", "\"" + name + "\"", "", ""});
}

sensors::SettlingOptions settling_options(const CalibrateOptions& options) {
  sensors::SettlingOptions settling;
  settling.window = options.window;
  settling.points_per_hour = options.still_points_per_hour;
  settling.kelvin_per_hour = std::max(settling.kelvin_per_hour, options.still_points_per_hour);
  return settling;
}

/// Asks one probe again and again until it is at rest.
class Jar {
 public:
  Jar(const ProbeSettings& probe, const CalibrateOptions& options, std::ostream& out)
      : probes_{probe}, settling_(settling_options(options)), out_(out) {}

  Settling::Rest wait() {
    asio::io_context context(1);
    Poller poller(probes_, context.get_executor());
    std::optional<Settling::Rest> rest;
    asio::co_spawn(context, ask(poller, rest), [](std::exception_ptr error) {
      if (error) std::rethrow_exception(error);
    });
    context.run();
    return rest.value();
  }

 private:
  awaitable<void> ask(Poller& poller, std::optional<Settling::Rest>& rest) {
    asio::steady_timer timer(co_await asio::this_coro::executor, std::chrono::steady_clock::now());
    int failures = 0;
    while (!rest) {
      co_await timer.async_wait(kNoThrow);
      timer.expires_at(timer.expiry() + probes_.front().every);
      poller.start(poller.polled(), probes_.front().every);
      const auto results = co_await poller.results();
      const auto& [reading, error] = results.front();
      if (reading.temperature && reading.humidity && reading.quality == sensors::Quality::good) {
        failures = 0;
        settling_.add(reading.at, *reading.temperature, reading.raw.humidity.value());
        rest = settling_.rest();
        tell(reading);
      } else if (++failures >= kFailuresInARow) {
        throw Refused({"no-reading", "the probe gives no temperature and humidity", error, "", ""});
      }
    }
  }

  void tell(const sensors::Reading& reading) {
    const auto now = std::chrono::steady_clock::now();
    if (now < tell_at_) return;
    tell_at_ = now + kTellEvery;
    const auto slope = settling_.points_per_hour();
    out_ << fmt::format("  {}  {:.2f} %, {:.2f} degC{}\n",
                        sensors::to_string(reading.at).substr(11, 5), reading.humidity->pct(),
                        reading.temperature->degc(),
                        slope ? fmt::format(", moving {:+.1f} points an hour", *slope) : "")
         << std::flush;
  }

  std::vector<ProbeSettings> probes_;
  Settling settling_;
  std::ostream& out_;
  std::chrono::steady_clock::time_point tell_at_ = std::chrono::steady_clock::time_point::min();
};

SaltReading measure(const Salt& salt, const std::string& step, const ProbeSettings& probe,
                    const CalibrateOptions& options, std::istream& in, std::ostream& out) {
  out << fmt::format(
             "\n{}: {} ({}), near {:.0f} %. Hang {} in its jar, close it, and press Enter. ", step,
             salt.name, salt.formula, salt.at(sensors::Celsius::degc(20)).value().humidity.pct(),
             probe.name)
      << std::flush;
  std::string line;
  if (!options.ask_nothing && !std::getline(in, line)) {
    throw Refused({"given-up", "calibration was broken off", "", "", ""});
  }
  out << "\nWaiting until it rests. That takes hours; it is told by itself.\n";
  const auto rest = Jar(probe, options, out).wait();
  out << fmt::format("  at rest: {:.2f} % at {:.2f} degC, where {:.2f} % is true\n",
                     rest.humidity.pct(), rest.temperature.degc(),
                     salt.at(rest.temperature).value().humidity.pct());
  return {salt, rest.temperature, rest.humidity, rest.uncertainty};
}

/// Said before the hours over the first jar, not after those over the second.
void check_apart(const std::vector<Salt>& salts) {
  if (salts.size() != 2) return;
  const auto at_rest = [](const Salt& salt) {
    const auto warmth = sensors::Celsius::degc(20);
    return SaltReading{salt, warmth, salt.at(warmth).value().humidity,
                       sensors::RelativeHumidity::pct(0)};
  };
  (void)sensors::two_point(at_rest(salts[0]), at_rest(salts[1])).value();
}

std::string calibration_line(const sensors::SaltCalibration& found,
                             const sensors::Correction& temperature, sensors::Day on) {
  std::string warmth;
  if (temperature.gain != 1.0 || temperature.offset != 0.0) {
    warmth = fmt::format("temperature = {{ gain = {}, offset = {} }}, ", temperature.gain,
                         temperature.offset);
  }
  return fmt::format(
      "calibration = {{ {}humidity = {{ gain = {:.4f}, offset = {:.3f} }}, done_on = {} }}", warmth,
      found.correction.gain, found.correction.offset, sensors::to_string(on));
}

void conclude(const CalibrateOptions& options, const std::vector<SaltReading>& points,
              const sensors::Correction& temperature, const std::string& where, std::ostream& out) {
  const auto found = points.size() == 1 ? sensors::one_point(points[0]).value()
                                        : sensors::two_point(points[0], points[1]).value();
  out << fmt::format("\ngain {:.4f} ± {:.4f}, offset {:.2f} ± {:.2f} points (one standard each)\n",
                     found.correction.gain, found.gain_uncertainty, found.correction.offset,
                     found.offset_uncertainty.pct());
  for (const double pct : {85.0, 95.0}) {
    const double told = (pct - found.correction.offset) / found.correction.gain;
    out << fmt::format("at {:.0f} % it will then be right within {:.1f} points, 95 times in 100\n",
                       pct, 2.0 * found.uncertainty_at(sensors::RelativeHumidity::pct(told)).pct());
  }
  out << fmt::format("\nPut this line into the probe's table{}:\n\n",
                     where.empty() ? "" : " (" + where + ")")
      << calibration_line(found, temperature, options.on)
      << fmt::format("\n\nIt is due again on {}, unless due_on says otherwise.\n",
                     sensors::to_string(options.on + sensors::kUsuallyDueAfter));
}

}  // namespace

SaltReading told_reading(const std::string& text) {
  const auto equals = text.find('=');
  const auto at = text.find('@', equals == std::string::npos ? 0 : equals);
  if (equals == std::string::npos || at == std::string::npos) {
    throw Refused({"bad-reading", "not what a probe told over a salt", "\"" + text + "\"", "",
                   "write SALT=HUMIDITY@TEMPERATURE, as NaCl=73.1@25"});
  }
  // By hand: a tenth is read off, and nobody knows the scatter.
  const auto by_hand = sensors::RelativeHumidity::pct(0.2);
  return {sensors::find_salt(text.substr(0, equals)).value(),
          sensors::parse_temperature(text.substr(at + 1)).value(),
          sensors::parse_humidity(text.substr(equals + 1, at - equals - 1)).value(), by_hand};
}

int run_calibrate(const Settings* settings, const CalibrateOptions& options, std::istream& in,
                  std::ostream& out) {
  if (settings == nullptr) {
    conclude(options, options.told, {}, "", out);
    return 0;
  }
  const auto probe = told_by(*settings, options.probe);
  std::vector<Salt> salts;
  for (const auto& name : options.salts) salts.push_back(sensors::find_salt(name).value());
  check_apart(salts);
  out << fmt::format(fmt::runtime(kFirstWords), probe.name);
  std::vector<SaltReading> points;
  for (const auto& salt : salts) {
    const auto step = fmt::format("Jar {} of {}", points.size() + 1, salts.size());
    points.push_back(measure(salt, step, probe, options, in, out));
  }
  conclude(options, points, probe.calibration.temperature, probe.where, out);
  return 0;
}

}  // namespace takehold::daemon
