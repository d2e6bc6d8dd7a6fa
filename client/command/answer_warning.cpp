// seen, quiet: a grower's answer to a warning.
#include "client/command/answer_warning.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "client/command/command_tree.hpp"
#include "client/command/daemon_line.hpp"
#include "daemon/toml/duration.hpp"

namespace takehold::client {

namespace {

std::string warning_target(const std::string& warning, const char* verb) {
  return "/v1/warnings/" + url_part(warning) + "/" + verb;
}

}  // namespace

sensors::Result<nlohmann::json> acknowledge(const Link& link, const std::string& warning) {
  return link.ask("POST", warning_target(warning, "acknowledge"), std::nullopt);
}

sensors::Result<nlohmann::json> shelve(const Link& link, const std::string& warning,
                                       sensors::Instant until) {
  return link.ask("POST", warning_target(warning, "shelve"),
                  nlohmann::json{{"until", sensors::to_string(until)}});
}

namespace {

void seen(const std::string& warning, Context& context) {
  const auto answer = answered(acknowledge(daemon_link(context), warning));
  context.out.line(
      fmt::format("{}: noted that you have seen it. It stands until the air is right.", warning));
  context.out.document({{"warning", warning}, {"answer", answer}});
}

void quiet(const std::string& warning, const std::string& length, Context& context) {
  const auto pause = daemon::parse_duration(length);
  if (!pause || pause->count() == 0) {
    throw WrongUsage({"bad-duration", "\"" + length + "\" is no length of time", "", "--for",
                      "30min, 2h or 1d"});
  }
  const auto until = context.now + *pause;
  const auto answer = answered(shelve(daemon_link(context), warning, until));
  context.out.line(fmt::format("{}: quiet for {}", warning, length));
  context.out.document(
      {{"warning", warning}, {"until", sensors::to_string(until)}, {"answer", answer}});
}

}  // namespace

void add_seen(CommandTree& tree) {
  CLI::App& app = tree.command(
      "seen", {kTheChamber, "you have seen a warning: it is not repeated", "", "seen W3"});
  const auto warning = std::make_shared<std::string>();
  app.add_option("warning", *warning, "the warning, as W3")->required();
  tree.action(app, [warning](Context& context) { seen(*warning, context); });
}

void add_quiet(CommandTree& tree) {
  CLI::App& app =
      tree.command("quiet", {kTheChamber, "a warning is silent for a while, always with an end", "",
                             "quiet W3 --for 2h"});
  const auto warning = std::make_shared<std::string>();
  const auto length = std::make_shared<std::string>();
  app.add_option("warning", *warning, "the warning, as W3")->required();
  app.add_option("--for", *length, "how long: 30min, 2h, 1d")->required();
  tree.action(app, [warning, length](Context& context) { quiet(*warning, *length, context); });
}

}  // namespace takehold::client
