// Where a command says its name, its options and what it does.
//
// A command is one file with one function, add_<name>(CommandTree&), and one line in commands.cpp.
// That function makes its CLI11 sub-command and hands over what to do; nothing is done until the
// whole line has been read and found right, so that wrong usage never leaves half a record behind.
#pragma once

#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>
#include <functional>
#include <memory>
#include <string>

#include "client/command/context.hpp"

namespace takehold::client {

/// What a command says about itself.
struct Teaching {
  std::string group;    ///< the heading it stands under: kPlanning ...
  std::string brief;    ///< one line, for the list of commands
  std::string lesson;   ///< a few lines: what it is for, what to know; may be empty
  std::string example;  ///< lines to type, without the program's name
};

inline constexpr const char* kPlanning = "Before the season";
inline constexpr const char* kDaily = "Day by day";
inline constexpr const char* kGrafting = "Grafting";
inline constexpr const char* kAfterGraft = "After the graft";
inline constexpr const char* kTheChamber = "The chamber";
inline constexpr const char* kLearning = "What came of it";
inline constexpr const char* kBook = "The book itself";

class CommandTree {
 public:
  using Action = std::function<void(Context&)>;

  explicit CommandTree(CLI::App& root) : root_(root) {}

  /// A command of the program. The App belongs to the root.
  CLI::App& command(const std::string& name, const Teaching& teaching);
  /// A command under `parent`: `season` has `new`, `load` ... Exactly one of them must be typed.
  CLI::App& command_under(CLI::App& parent, const std::string& name, const Teaching& teaching);

  /// What `app` does once the line has been read. The action outlives the parsing; give it its
  /// typed values in a std::shared_ptr that the options write into.
  void action(CLI::App& app, Action action);

  const CLI::App& root() const { return root_; }
  /// The action of the command that was typed. Empty before parsing.
  const Action& chosen() const { return chosen_; }
  /// The words typed for it: "season load".
  const std::string& chosen_name() const { return chosen_name_; }

 private:
  CLI::App& root_;
  Action chosen_;
  std::string chosen_name_;
};

/// --on DAY or --at INSTANT of a recording command; read with `when_of` in context.hpp.
void add_when(CLI::App& app, TypedWhen& when);

}  // namespace takehold::client
