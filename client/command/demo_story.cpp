#include "client/command/demo_story.hpp"

#include <fmt/format.h>

#include <sstream>
#include <utility>

#include "client/command/program.hpp"
#include "client/command/text_file.hpp"
#include "client/terminal/text_width.hpp"

namespace takehold::client {

namespace {

std::string with_folder(std::string text, const std::string& folder) {
  constexpr std::string_view kMark = "{folder}";
  const auto at = text.find(kMark);
  return at == std::string::npos ? text : text.replace(at, kMark.size(), folder);
}

std::vector<std::string> words_of(std::string_view line) {
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
    if (line.empty() || line.front() == ';') return;
    const std::string rest(line.size() > 2 ? line.substr(2) : std::string_view{});
    switch (line.front()) {
      case '#':
        return title(rest);
      case '@':
        now_ = rest == "now" ? teller_.now : sensors::parse_instant(rest).value();
        return;
      case '*':
        return teller_.scene(rest);
      case '|':
        return out_.text(wrapped(with_folder(rest, teller_.folder), out_.style().width) + "\n");
      default:
        return run(rest, line.front(), number);
    }
  }

 private:
  void title(const std::string& title) {
    if (screens_++ > 0) teller_.pause();
    out_.line("\n" + inked(title, Ink::strong, out_.style()));
    out_.line(std::string(title.size(), '='));
  }

  void run(const std::string& line, char how, int number) {
    StoryCommand command = story_command(line, teller_.folder);
    const bool shown = how != '-';
    if (shown) out_.line("\n" + inked("$ takehold " + line, Ink::strong, out_.style()));
    command.words.insert(command.words.end(), teller_.always.begin(), teller_.always.end());
    command.words.insert(command.words.end(), {"--now", sensors::to_string(now_)});
    std::istringstream in;
    std::ostringstream out, mistakes;
    const int code = run_program(command.words, {in, out, mistakes, out_.style(), now_});
    const bool as_told = how == '!' ? code == kRefused : code == kDone;
    if (!as_told) {
      throw sensors::Refused({"demo-stopped", "the story's line was not done as told: " + line,
                              mistakes.str(), fmt::format("story line {}", number), ""});
    }
    if (!command.output_file.empty()) write_text_file(command.output_file, out.str());
    if (how == '!') out_.text(mistakes.str());
    if (shown) out_.text(out.str());
  }

  const StoryTeller& teller_;
  Output& out_;
  sensors::Instant now_{};
  int screens_ = 0;
};

}  // namespace

StoryCommand story_command(std::string_view line, const std::string& folder) {
  StoryCommand command{words_of(line), ""};
  for (std::string& word : command.words) word = with_folder(std::move(word), folder);
  const auto count = command.words.size();
  if (count >= 2 && command.words[count - 2] == ">") {
    command.output_file = command.words.back();
    command.words.resize(count - 2);
  }
  return command;
}

sensors::Instant last_moment(std::string_view story) {
  sensors::Instant last{};
  std::istringstream lines{std::string(story)};
  for (std::string line; std::getline(lines, line);) {
    if (!line.starts_with("@ ") || line == "@ now") continue;
    last = std::max(last, sensors::parse_instant(line.substr(2)).value());
  }
  return last;
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
