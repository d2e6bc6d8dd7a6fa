#include "client/command/demo_story.hpp"

#include <fmt/format.h>

#include <fstream>
#include <sstream>
#include <utility>

#include "client/command/program.hpp"

namespace takehold::client {

namespace {

std::string with_folder(std::string text, const std::string& folder) {
  constexpr std::string_view kMark = "{folder}";
  for (auto at = text.find(kMark); at != std::string::npos; at = text.find(kMark)) {
    text.replace(at, kMark.size(), folder);
  }
  return text;
}

std::vector<std::string> words_of(const std::string& line) {
  std::vector<std::string> words;
  std::string word;
  bool quoted = false;
  bool begun = false;
  for (const char c : line) {
    if (c == '"') {
      quoted = !quoted;
      begun = true;
    } else if (c == ' ' && !quoted) {
      if (begun) words.push_back(std::exchange(word, {}));
      begun = false;
    } else {
      word += c;
      begun = true;
    }
  }
  if (begun) words.push_back(word);
  return words;
}

/// One telling: the clock moves, everything else stays.
class Teller {
 public:
  Teller(const StoryTeller& teller, Output& out) : teller_(teller), out_(out) {}

  void line(std::string_view line, int number) {
    if (line.empty() || line.front() == '#') return;
    const std::string rest(line.size() > 2 ? line.substr(2) : std::string_view{});
    if (line.starts_with("==")) {
      out_.line("\n" + inked(rest.substr(1), Ink::strong, out_.style()));
    } else if (line.front() == '@') {
      now_ = sensors::parse_instant(rest).value();
    } else if (line.front() == '*') {
      teller_.scene(rest);
    } else if (line.front() == '>' || line.front() == '-') {
      run(rest, line.front() == '>', number);
    } else {
      out_.line(with_folder(rest, teller_.folder));
    }
  }

 private:
  void run(const std::string& line, bool shown, int number) {
    StoryCommand command = story_command(line, teller_.folder);
    if (shown) out_.line("\n$ takehold " + with_folder(line, teller_.folder));
    command.words.insert(command.words.end(),
                         {"--book", teller_.book, "--now", sensors::to_string(now_), "--daemon",
                          "unix:" + teller_.folder + "/chamberd.sock"});
    std::istringstream in;
    std::ostringstream out, mistakes;
    const int code = run_program(command.words, {in, out, mistakes, out_.style(), now_});
    if (code != kDone) {
      throw sensors::Refused({"demo-stopped", mistakes.str(), line, fmt::format("line {}", number),
                              "this is a mistake of ours"});
    }
    if (!command.output_file.empty()) std::ofstream(command.output_file) << out.str();
    if (shown) out_.text(out.str());
  }

  const StoryTeller& teller_;
  Output& out_;
  sensors::Instant now_{};
};

}  // namespace

StoryCommand story_command(std::string_view line, const std::string& folder) {
  StoryCommand command{words_of(with_folder(std::string(line), folder)), ""};
  const auto count = command.words.size();
  if (count >= 2 && command.words[count - 2] == ">") {
    command.output_file = command.words.back();
    command.words.resize(count - 2);
  }
  return command;
}

void tell_story(std::string_view story, const StoryTeller& teller, Output& out) {
  Teller telling(teller, out);
  std::istringstream lines{std::string(story)};
  int number = 0;
  for (std::string line; std::getline(lines, line);) {
    if (teller.is_interrupted()) {
      throw sensors::Refused({"interrupted", "the demo was interrupted", "", "", ""});
    }
    telling.line(line, ++number);
  }
}

}  // namespace takehold::client
