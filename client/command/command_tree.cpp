#include "client/command/command_tree.hpp"

#include <sstream>

namespace takehold::client {
namespace {

std::string footer_of(const Teaching& teaching) {
  std::string footer = teaching.lesson;
  if (!teaching.example.empty()) {
    if (!footer.empty()) footer += "\n\n";
    footer += "For example:";
    std::istringstream lines(teaching.example);
    for (std::string line; std::getline(lines, line);) footer += "\n  takehold " + line;
  }
  return footer;
}

std::string full_name(const CLI::App* app) {
  const CLI::App* parent = app->get_parent();
  if (parent == nullptr) return "";
  const std::string above = full_name(parent);
  return above.empty() ? app->get_name() : above + " " + app->get_name();
}

}  // namespace

CLI::App& CommandTree::command(const std::string& name, const Teaching& teaching) {
  return command_under(root_, name, teaching);
}

CLI::App& CommandTree::command_under(CLI::App& parent, const std::string& name,
                                     const Teaching& teaching) {
  CLI::App& app = *parent.add_subcommand(name, teaching.brief);
  if (!teaching.group.empty()) app.group(teaching.group);
  app.footer(footer_of(teaching));
  app.fallthrough();  // the options of all commands may stand behind the command too
  if (&parent != &root_) parent.require_subcommand(1);
  return app;
}

void CommandTree::action(CLI::App& app, Action action) {
  app.callback([this, &app, action = std::move(action)] {
    chosen_ = action;
    chosen_name_ = full_name(&app);
  });
}

void add_when(CLI::App& app, TypedWhen& when) {
  app.add_option("--on", when.on, "the day it was done, as 2027-04-12; default today");
  app.add_option("--at", when.at,
                 "the time of that day, as 09:30, or a moment, as 2027-04-12T09:30:00Z");
}

}  // namespace takehold::client
