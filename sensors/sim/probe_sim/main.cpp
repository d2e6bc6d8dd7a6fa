// probe-sim: a simulated healing chamber that speaks the real wire formats.
#include <CLI/CLI.hpp>
#include <cmath>
#include <iostream>

#include "sensors/sim/probe_sim/live.hpp"
#include "sensors/sim/probe_sim/trace_file.hpp"

namespace {

using namespace takehold::sensors;

/// As typed; empty texts are ports whose name stands in --link.
struct Typed {
  std::vector<std::string> text, modbus;
  std::string link, trace, start;
  std::optional<int> http;
  int unit = 1, units = 1, probes = 2;
  bool extras = false;
  std::vector<std::string> faults;
  std::uint64_t seed = 1;
  double every_s = 0.0, speed = 1.0, hours = 24.0;
  double set_temperature = ChamberSettings{}.set_temperature.degc();
  double set_humidity = ChamberSettings{}.set_humidity.pct();
  std::string opening;
  Wording wording = Wording::letters;
};

const char* const kFooter = R"(
A chamber of a quarter of a cubic metre stands in a room that is warmer by day. A heater and a
humidifier hold it, both switching on and off around their set points. Every port is a probe of its
own in that one chamber, a little off, a little noisy and half a minute late, as probes are.

What a port says:
  --text     a line now and then: T=24.31 H=96.20 (or as --lines says)
  --modbus   registers 1 (tenths of a degC, signed) and 2 (tenths of a percent), 6-7 and 8-9 the
             same as floats, functions 3 and 4; --units 3 puts three units on the one line
  --http     {"temperature_degc":24.31,"humidity_pct":96.20} for any GET
  --extras   adds leaf temperature, carbon dioxide and light: L= C= Q=, registers 3 4 5, JSON keys

What can go wrong, by --fault KIND@SECONDS, and +SECONDS for how long:
  the chamber  door (wide open, 2 min)  ajar (not quite shut)  leak (slow)  dry (water out)
               soak (humidifier sticks)  cold (heater dead)  hot (heater sticks)  mist (10 s)
  a probe      silent  stuck (repeats itself)  wet (a drop: 100 %)  jump (leaps about)
               off (8 points too dry)  wild (broken wire: 130 degC); :2 means the second probe

Try it: a chamber on two terminals whose door is opened after a minute, ten times as fast as life;
then a day's table in which the water runs out at noon, to be judged by chamberd --replay:
  probe-sim --text left.tty --modbus right.tty --fault door@60 --speed 10
  probe-sim --trace day.csv --hours 24 --probes 2 --start 2027-04-12T00:00:00Z --fault dry@43200
Links go away when it is ended (SIGTERM, Ctrl-C).
)";

void add_ports(CLI::App& app, Typed& typed) {
  const std::map<std::string, Wording> wordings = {
      {"letters", Wording::letters}, {"key-value", Wording::key_value}, {"json", Wording::json}};
  const std::map<std::string, double> units = {{"ms", 0.001}, {"s", 1.0}, {"min", 60.0}};
  app.add_option("--text", typed.text,
                 "a pseudo-terminal that tells a line now and then; LINK names it")
      ->expected(0, 1)
      ->multi_option_policy(CLI::MultiOptionPolicy::TakeAll)
      ->type_name("[LINK]");
  app.add_option("--modbus", typed.modbus, "a pseudo-terminal that answers Modbus RTU")
      ->expected(0, 1)
      ->multi_option_policy(CLI::MultiOptionPolicy::TakeAll)
      ->type_name("[LINK]");
  app.add_option("--http", typed.http, "a port of this machine for JSON; 0: any, and it is printed")
      ->check(CLI::Range(0, 65535))
      ->type_name("PORT");
  app.add_option("--link", typed.link, "the name of a terminal given without one")
      ->type_name("LINK");
  app.add_option("--unit", typed.unit, "the Modbus unit's number, of several the first")
      ->check(CLI::Range(1, 247));
  app.add_option("--units", typed.units, "Modbus units on one line, each a probe")
      ->check(CLI::Range(1, 32));
  app.add_option("--lines", typed.wording, "how text is written: letters, key-value, json")
      ->transform(CLI::CheckedTransformer(wordings))
      ->option_text("FORM");
  app.add_option("--every", typed.every_s, "between two lines (1s), in a trace two rounds (10s)")
      ->transform(CLI::AsNumberWithUnit(units, CLI::AsNumberWithUnit::UNIT_OPTIONAL))
      ->option_text("TIME");
  app.add_option("--speed", typed.speed, "simulated seconds in a real one")
      ->check(CLI::Range(0.01, 10000.0))
      ->type_name("FACTOR");
}

void add_scene(CLI::App& app, Typed& typed) {
  app.add_flag("--extras", typed.extras, "probes tell leaf temperature, CO2 and light too");
  app.add_option("--seed", typed.seed, "the same seed, the same noise");
  app.add_option("--set-temperature", typed.set_temperature, "what the heater holds, degC");
  app.add_option("--set-humidity", typed.set_humidity, "what the humidifier holds, %");
  app.add_option("--opening", typed.opening,
                 "PCT@SECONDS+SECONDS: from then on the set humidity moves there in so long");
  app.add_option("--fault", typed.faults,
                 "KIND@SECONDS, KIND@SECONDS+SECONDS, a probe's KIND@SECONDS:PROBE; again for "
                 "more. KIND: " +
                     fault_names())
      ->type_name("FAULT")
      ->expected(1)
      ->multi_option_policy(CLI::MultiOptionPolicy::TakeAll);
  app.add_option("--start", typed.start,
                 "the simulated clock's start (now); its hour makes the room's day")
      ->type_name("INSTANT");
  app.add_option("--trace", typed.trace,
                 "write a table for chamberd --replay and end; -: to the screen")
      ->type_name("CSVFILE");
  app.add_option("--hours", typed.hours, "the trace's length")->check(CLI::Range(0.001, 10000.0));
  app.add_option("--probes", typed.probes, "the trace's probes: left, right, probe-3 ...")
      ->check(CLI::Range(1, 100));
}

/// The places of one kind of port; an empty one is --link's.
std::vector<std::string> links_of(std::vector<std::string> typed, const std::string& link) {
  for (auto& name : typed) {
    if (name.empty()) name = link;
    if (name.empty()) throw CLI::ValidationError("a terminal needs a name: --text LINK");
  }
  return typed;
}

SceneSettings scene_of(const Typed& typed, int probes) {
  SceneSettings scene;
  scene.chamber.set_temperature = Celsius::degc(typed.set_temperature);
  scene.chamber.set_humidity = RelativeHumidity::pct(typed.set_humidity);
  scene.probes = probes;
  scene.seed = typed.seed;
  scene.extras = typed.extras;
  for (const auto& text : typed.faults) scene.faults.push_back(parse_fault(text).value());
  if (!typed.opening.empty()) scene.opening = parse_opening(typed.opening).value();
  scene.start = typed.start.empty()
                    ? std::chrono::floor<std::chrono::seconds>(std::chrono::system_clock::now())
                    : parse_instant(typed.start).value();
  check(scene).value();
  return scene;
}

std::chrono::milliseconds every_of(const Typed& typed, std::chrono::milliseconds otherwise) {
  if (typed.every_s == 0.0) return otherwise;
  const auto every = std::chrono::milliseconds(std::llround(1000.0 * typed.every_s));
  if (every < std::chrono::milliseconds(10)) throw CLI::ValidationError("--every: at least 10ms");
  return every;
}

void run_trace(const Typed& typed) {
  TraceOptions options;
  options.file = typed.trace;
  options.length = std::chrono::seconds(std::llround(3600.0 * typed.hours));
  options.every = every_of(typed, options.every);
  write_trace(options, scene_of(typed, typed.probes));
}

void run_ports(const Typed& typed) {
  LiveOptions options;
  options.text_links = links_of(typed.text, typed.link);
  options.modbus_links = links_of(typed.modbus, typed.link);
  options.http_port = typed.http;
  options.unit = typed.unit;
  options.units = typed.units;
  if (typed.unit + typed.units > 248)
    throw CLI::ValidationError("--units: the last would be over 247");
  options.wording = typed.wording;
  options.speed = typed.speed;
  options.every = every_of(typed, options.every);
  if (options.probes() == 0) {
    throw CLI::ValidationError("nothing to do: give --text, --modbus, --http or --trace");
  }
  run_live(options, scene_of(typed, options.probes()));
}

}  // namespace

int main(int argc, char** argv) {
  CLI::App app("A simulated healing chamber that speaks as real probes do.", "probe-sim");
  app.footer(kFooter);
  app.set_version_flag("--version", "probe-sim " TAKEHOLD_VERSION);
  Typed typed;
  add_ports(app, typed);
  add_scene(app, typed);
  try {
    app.parse(argc, argv);
    typed.trace.empty() ? run_ports(typed) : run_trace(typed);
    return 0;
  } catch (const CLI::ParseError& error) {
    return app.exit(error) == 0 ? 0 : 2;
  } catch (const std::exception& error) {
    std::cerr << "probe-sim: " << error.what() << "\n";
    return 1;
  }
}
