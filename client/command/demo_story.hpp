// The demo's story: a text that says what a grower did, day by day, in the program's own commands.
//
//   # Title             a screen begins
//   | words             a paragraph, said to the reader
//   @ INSTANT           the clock of all that follows; "now" is the reader's own
//   > command           run and shown, as if it had been typed
//   - command           run, but only its mistakes are shown
//   ! command           run and shown, and must be refused
//   * scene             something that is no command: see StoryTeller::scene
//
// {folder} stands for the demo's folder; "command > FILE" keeps the output in a file. ; is a
// comment.
#pragma once

#include <functional>
#include <istream>
#include <string>
#include <string_view>
#include <vector>

#include "client/command/output.hpp"
#include "sensors/quantity/calendar.hpp"

namespace takehold::client {

/// A command's words and the file its output is kept in, if any.
struct StoryCommand {
  std::vector<std::string> words;
  std::string output_file;
};

/// Parts a line into words; "..." keeps blanks together, and so does a folder's own name.
StoryCommand story_command(std::string_view line, const std::string& folder);

/// The last moment that the story's clock is set to, before the reader's own.
sensors::Instant last_moment(std::string_view story);

struct StoryTeller {
  std::string folder;
  std::vector<std::string> always;  ///< words put behind every command: which book, which daemon
  sensors::Instant now{};           ///< the reader's
  /// Asked before every line: true ends the story with the problem "interrupted".
  std::function<bool()> is_interrupted;
  /// A scene by its name.
  std::function<void(const std::string&)> scene;
  /// Before each screen but the first; may wait for a key.
  std::function<void()> pause;
};

/// Tells the story on `out`, running its commands as the program runs any other. The first command
/// that is refused unasked ends it: Refused, code "demo-stopped", naming the line.
void tell_story(std::string_view story, const StoryTeller& teller, Output& out);

}  // namespace takehold::client
