// The demo's story: a text that says what a grower did, day by day, in the program's own commands.
//
//   == Title            a screen begins
//   | words             said to the reader
//   @ INSTANT           the clock of all that follows
//   > command           run and shown, as if it had been typed
//   - command           run, but only its mistakes are shown
//   * scene             something that is no command: see StoryTeller::scene
//
// {folder} stands for the demo's folder; "command > FILE" keeps the output in a file. # is a
// comment.
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "client/command/context.hpp"

namespace takehold::client {

/// A command's words and the file its output is kept in, if any.
struct StoryCommand {
  std::vector<std::string> words;
  std::string output_file;
};

/// Parts a line into words; "…" keeps blanks together.
StoryCommand story_command(std::string_view line, const std::string& folder);

struct StoryTeller {
  std::string folder;
  std::string book;  ///< the demo's own
  /// Asked before every line: true ends the story with the problem "interrupted".
  std::function<bool()> is_interrupted;
  /// A scene by its name.
  std::function<void(const std::string&)> scene;
};

/// Tells the story on `out`, running its commands as the program runs any other. The first command
/// that is refused ends it: Refused, code "demo-stopped", naming the line.
void tell_story(std::string_view story, const StoryTeller& teller, Output& out);

}  // namespace takehold::client
