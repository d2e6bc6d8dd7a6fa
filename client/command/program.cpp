#include "client/command/program.hpp"

#include <algorithm>
#include <istream>
#include <ostream>
#include <vector>

#include <CLI/Error.hpp>

#include "client/command/commands.hpp"
#include "client/command/front_door.hpp"
#include "daemon/toml/nearest.hpp"

#ifndef TAKEHOLD_VERSION
#error "the build gives the version"
#endif

namespace takehold::client {
namespace {

using sensors::Problem;

constexpr const char* kWhatItIs =
    "Plans, records and learns for growers who graft tomatoes. Every command has its own --help.";

void describe(CLI::App& app, GlobalOptions& options) {
  app.name("takehold");
  app.require_subcommand(0, 1);
  app.get_formatter()->column_width(30);
  app.set_help_flag("-h,--help", "what it does and how to ask for it");
  app.set_version_flag("--version", "takehold " TAKEHOLD_VERSION, "which version this is");
  app.add_flag("--json", options.json, "one JSON document instead of text");
  app.add_option("--now", options.now, "an instant to stand for now, as 2027-04-12T09:30:00Z");
  app.add_option("--book", options.book, "the book's file");
  app.add_option("--daemon", options.daemon, "where chamberd is: unix:PATH or http://host:port");
  app.add_option("--settings", options.settings, "takehold.toml, instead of the usual one");
}

/// The deepest command that was recognised, and the first word behind it that was not.
const CLI::App& deepest(const CLI::App& root) {
  const auto parsed = root.get_subcommands();
  return parsed.empty() ? root : deepest(*parsed.front());
}

std::vector<std::string> names_under(const CLI::App& app) {
  std::vector<std::string> names;
  for (const CLI::App* sub : app.get_subcommands([](const CLI::App*) { return true; })) {
    names.push_back(sub->get_name());
  }
  return names;
}

std::vector<std::string> options_of(const CLI::App& app) {
  std::vector<std::string> names;
  for (const CLI::App* level = &app; level != nullptr; level = level->get_parent()) {
    for (const CLI::Option* option : level->get_options()) {
      for (const std::string& name : option->get_lnames()) names.push_back("--" + name);
    }
  }
  return names;
}

std::string typed_name(const CLI::App& app) {
  if (app.get_parent() == nullptr) return "takehold";
  return typed_name(*app.get_parent()) + " " + app.get_name();
}

/// CLI11's words turned into ours, with the command or option that may have been meant.
Problem usage_problem(const CLI::App& root, const CLI::ParseError& error) {
  const CLI::App& app = deepest(root);
  Problem problem{"usage", error.what(), "", "", "see " + typed_name(app) + " --help"};
  const std::vector<std::string> left = root.remaining(true);
  const auto commands = names_under(app);
  const auto stray = std::find_if(left.begin(), left.end(), [&](const std::string& word) {
    return word.starts_with('-') || !commands.empty();
  });
  if (stray == left.end()) {
    if (!commands.empty()) problem.title = typed_name(app) + " wants a command behind it";
    return problem;
  }
  const bool is_option = stray->starts_with('-');
  const std::string name = stray->substr(0, stray->find('='));
  problem.code = is_option ? "unknown-option" : "unknown-command";
  problem.title = is_option ? typed_name(app) + " has no option " + name
                            : "'" + name + "' is not a command of " + typed_name(app);
  const std::string near = daemon::nearest_name(name, is_option ? options_of(app) : commands);
  if (!near.empty()) problem.hint = "did you mean " + near + "? " + problem.hint;
  return problem;
}

bool asks_for_json(std::span<const std::string> arguments) {
  return std::find(arguments.begin(), arguments.end(), "--json") != arguments.end();
}

int wrong_usage(const CLI::App& root, const CLI::ParseError& error,
                std::span<const std::string> arguments, const Surroundings& around) {
  if (error.get_exit_code() == 0) {  // --help and --version come as errors, too
    CLI::App& app = const_cast<CLI::App&>(root);
    app.exit(error, around.out, around.err);
    return kDone;
  }
  Output(around.out, around.err, asks_for_json(arguments), around.style)
      .refusal(usage_problem(root, error));
  return kWrongUsage;
}

void run_line(const std::vector<std::string>& words, GlobalOptions& options, CLI::App& app,
              CommandTree& tree) {
  describe(app, options);
  add_commands(tree);
  app.parse(std::vector<std::string>(words.rbegin(), words.rend()));
}

/// Other words in place of those that were typed; they share this run's place and moment.
void run_words(const std::vector<std::string>& words, const Context& outer) {
  GlobalOptions unused;
  CLI::App app(kWhatItIs);
  CommandTree tree(app);
  try {
    run_line(words, unused, app, tree);
  } catch (const CLI::ParseError& error) {
    throw WrongUsage(usage_problem(app, error));
  }
  Context inner = outer;
  tree.chosen()(inner);
}

}  // namespace

int run_program(std::span<const std::string> arguments, const Surroundings& around) {
  GlobalOptions options;
  CLI::App app(kWhatItIs);
  CommandTree tree(app);
  try {
    run_line({arguments.begin(), arguments.end()}, options, app, tree);
  } catch (const CLI::ParseError& error) {
    return wrong_usage(app, error, arguments, around);
  }
  Output out(around.out, around.err, options.json, around.style);
  try {
    Context context{
        options, now_of(options, around.clock), Units::metric, out, around.in, around.at_terminal,
        {}};
    context.settings = load_client_settings(options.settings);
    context.use_units_of_season(Units::metric);
    out.show_dates(context.settings.dates);
    context.run_instead = [&context](const auto& words) { run_words(words, context); };
    tree.chosen() ? tree.chosen()(context) : front_door(context);
    return kDone;
  } catch (const WrongUsage& wrong) {
    out.refusal(wrong.problem());
    return kWrongUsage;
  } catch (const sensors::Refused& refused) {
    out.refusal(refused.problem());
  } catch (const std::exception& failure) {
    out.refusal({"failed", failure.what(), "", "", ""});
  }
  return kRefused;
}

}  // namespace takehold::client
