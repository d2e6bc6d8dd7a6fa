// What each program says about itself, taken apart: the one source of its manual and of what a
// shell completes.
#pragma once

#include <CLI/App.hpp>
#include <string>
#include <vector>

namespace takehold::client {

/// A word that may follow: a command's name, or an option with its strokes.
struct NextWord {
  std::string word;
  std::string brief;  ///< one line; may be empty
};

struct CommandPage {
  std::string path;  ///< "takehold season load"
  std::string help;  ///< as --help prints it
  std::vector<NextWord> next;
};

/// The program's own page and one of each command, in the order of --help.
std::vector<CommandPage> pages_of(const CLI::App& root);

/// The page of a program that stands beside this one, by running it with --help. Refuses
/// "program-not-found", and "no-help" when it does not explain itself.
CommandPage page_of_program(const std::string& name);

/// The options that a help text lists, and the commands under "Subcommands:".
std::vector<NextWord> words_in(const std::string& help);

}  // namespace takehold::client
