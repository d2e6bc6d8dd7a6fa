// chamberd: watches the healing chamber.

#include <fmt/format.h>
#include <spdlog/sinks/stdout_sinks.h>
#include <spdlog/spdlog.h>

#include <CLI/CLI.hpp>
#include <iostream>

#include "daemon/io/messages.hpp"
#include "daemon/io/run.hpp"
#include "daemon/settings/settings.hpp"
#include "daemon/toml/duration.hpp"

namespace {

using namespace takehold;

struct Arguments {
  std::string settings;
  std::string trace;
  std::string keep;
  bool check = false;
  bool once = false;
  bool try_notify = false;
  std::vector<std::string> try_pattern;  ///< the pattern, then lines
  bool calibrate = false;
  std::string probe;
  std::vector<std::string> salts, told;
  std::string window = "60min";
  double still = daemon::CalibrateOptions{}.still_points_per_hour;
  std::string on;
  bool jars_ready = false;
  std::string backup;
  bool doctor = false;
};

/// $XDG_CONFIG_HOME/takehold/chamberd.toml, ~/.config, else /etc/takehold/chamberd.toml.
std::string usual_settings() {
  const char* config = std::getenv("XDG_CONFIG_HOME");
  const char* home = std::getenv("HOME");
  std::filesystem::path own = config != nullptr ? config : "";
  if (own.empty() && home != nullptr) own = std::filesystem::path(home) / ".config";
  own /= "takehold/chamberd.toml";
  std::error_code error;
  return std::filesystem::exists(own, error) ? own.string() : "/etc/takehold/chamberd.toml";
}

void describe(CLI::App& app, Arguments& arguments) {
  app.set_version_flag("--version", daemon::kProgram);
  app.add_option("--settings", arguments.settings, "the settings file (TOML)");
  auto* check =
      app.add_flag("--check", arguments.check, "validate the settings and print what they come to");
  auto* once = app.add_flag("--once", arguments.once, "poll each probe once and print");
  auto* replay = app.add_option("--replay", arguments.trace,
                                "feed a recorded table of readings, print what is reported");
  app.add_option("--keep", arguments.keep, "a new file for the replay's log")->needs(replay);
  auto* try_notify =
      app.add_flag("--try-notify", arguments.try_notify, "send a made-up warning to each notifier");
  auto* try_pattern = app.add_option("--try-pattern", arguments.try_pattern,
                                     "hold a pattern against the lines after it, or piped in")
                          ->type_name("PATTERN [LINE...]")
                          ->expected(1, 1000);
  check->excludes(once, replay, try_notify, try_pattern);
  once->excludes(replay, try_notify, try_pattern);
  replay->excludes(try_notify, try_pattern);
  try_notify->excludes(try_pattern);
}

void describe_calibrate(CLI::App& app, Arguments& arguments) {
  auto* calibrate = app.add_subcommand(
      "calibrate", "lead through the calibration of a probe over saturated salts");
  calibrate->callback([&arguments] { arguments.calibrate = true; });
  auto* probe = calibrate->add_option("--probe", arguments.probe, "its name in the settings");
  calibrate
      ->add_option("--salt", arguments.salts,
                   "one or two of LiCl MgCl2 K2CO3 NaBr NaCl KCl K2SO4 (NaCl and K2SO4)")
      ->expected(1, 2);
  auto* told =
      calibrate
          ->add_option("--told", arguments.told,
                       "read off by hand, as NaCl=73.1@25; once or twice, no probe is asked")
          ->type_name("SALT=PCT@DEGC")
          ->expected(1, 2);
  told->excludes(probe);
  calibrate->add_option("--window", arguments.window, "how long it must be level (60min)")
      ->type_name("DURATION");
  calibrate->add_option("--still", arguments.still, "level is below so many points an hour (0.15)")
      ->check(CLI::Range(0.01, 1e6));
  calibrate->add_option("--on", arguments.on, "the day it is done (today)")->type_name("DAY");
  calibrate->add_flag("--jars-ready", arguments.jars_ready, "wait for no key");
}

void describe_service(CLI::App& app, Arguments& arguments) {
  auto* backup =
      app.add_subcommand("backup", "copy the chamber log, also while another chamberd writes it");
  backup->add_option("FILE", arguments.backup, "the copy; best on another disk")->required();
  app.add_subcommand("doctor", "say in plain words what is right here and what is not")
      ->callback([&arguments] { arguments.doctor = true; });
}

sensors::Day today() {
  return std::chrono::local_days(
      std::chrono::floor<std::chrono::days>(std::chrono::system_clock::now()).time_since_epoch());
}

int calibrate(const Arguments& arguments, const std::string& file) {
  daemon::CalibrateOptions options;
  options.probe = arguments.probe;
  if (!arguments.salts.empty()) options.salts = arguments.salts;
  for (const auto& text : arguments.told) options.told.push_back(daemon::told_reading(text));
  options.window = daemon::parse_duration(arguments.window).value();
  options.still_points_per_hour = arguments.still;
  options.ask_nothing = arguments.jars_ready;
  options.on = arguments.on.empty() ? today() : sensors::parse_day(arguments.on).value();
  if (!options.told.empty()) return run_calibrate(nullptr, options, std::cin, std::cout);
  const auto settings = daemon::load_settings(file, daemon::Places::of_environment());
  return run_calibrate(&settings, options, std::cin, std::cout);
}

int run(const Arguments& arguments) {
  const auto file = arguments.settings.empty() ? usual_settings() : arguments.settings;
  if (arguments.calibrate) return calibrate(arguments, file);
  if (!arguments.try_pattern.empty()) {
    const auto& words = arguments.try_pattern;
    return daemon::run_try_pattern(words[0], {words.begin() + 1, words.end()}, std::cin, std::cout);
  }
  const auto settings = daemon::load_settings(file, daemon::Places::of_environment());
  if (arguments.check) {
    std::cout << daemon::to_toml(settings);
    return 0;
  }
  if (arguments.doctor) return daemon::run_doctor(settings, std::cout);
  if (!arguments.backup.empty()) return daemon::run_backup(settings, arguments.backup, std::cout);
  if (arguments.once) return daemon::run_once(settings, std::cout);
  if (!arguments.trace.empty()) {
    return daemon::run_replay(settings, {arguments.trace, arguments.keep}, std::cout);
  }
  if (arguments.try_notify) return daemon::run_try_notify(settings, std::cout);
  return daemon::run_daemon(settings);
}

}  // namespace

int main(int count, char** words) {
  spdlog::set_default_logger(spdlog::stderr_logger_st("chamberd"));
  spdlog::set_pattern("%l %v");  // the service manager adds the time
  Arguments arguments;
  CLI::App app("chamberd watches the healing chamber: polls its probes, keeps the log, warns.");
  describe(app, arguments);
  describe_calibrate(app, arguments);
  describe_service(app, arguments);
  app.fallthrough();  // --settings may stand after the word
  try {
    app.parse(count, words);
  } catch (const CLI::ParseError& error) {
    return app.exit(error) == 0 ? 0 : 2;
  }
  try {
    return run(arguments);
  } catch (const std::exception& error) {
    fmt::print(stderr, "chamberd: {}\n", error.what());
    return 1;
  }
}
