// chamberd: watches the healing chamber.

#include <fmt/format.h>
#include <spdlog/sinks/stdout_sinks.h>
#include <spdlog/spdlog.h>

#include <CLI/CLI.hpp>
#include <iostream>

#include "daemon/io/messages.hpp"
#include "daemon/io/run.hpp"
#include "daemon/settings/settings.hpp"

namespace {

using namespace takehold;

struct Arguments {
  std::string settings;
  std::string trace;
  std::string keep;
  bool check = false;
  bool once = false;
  bool try_notify = false;
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
  check->excludes(once, replay, try_notify);
  once->excludes(replay, try_notify);
  replay->excludes(try_notify);
}

int run(const Arguments& arguments) {
  const auto file = arguments.settings.empty() ? usual_settings() : arguments.settings;
  const auto settings = daemon::load_settings(file, daemon::Places::of_environment());
  if (arguments.check) {
    std::cout << daemon::to_toml(settings);
    return 0;
  }
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
