#include "client/command/command_pages.hpp"

#include <stdlib.h>
#include <unistd.h>

#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>
#include <filesystem>
#include <sstream>

#include "client/command/child_program.hpp"
#include "client/command/text_file.hpp"
#include "sensors/quantity/problem.hpp"

namespace takehold::client {
namespace {

constexpr std::size_t kListIndent = 2;  // of a word that a help text lists

std::string first_line(const std::string& text) {
  return text.substr(0, text.find('\n'));
}

void add_pages(const CLI::App& app, const std::string& path, std::vector<CommandPage>& pages) {
  CommandPage page{
      path, app.get_formatter()->make_help(&app, path, CLI::AppFormatMode::Normal), {}};
  const auto below = app.get_subcommands([](const CLI::App*) { return true; });
  for (const CLI::App* sub : below) {
    page.next.push_back({sub->get_name(), first_line(sub->get_description())});
  }
  for (const CLI::App* level = &app; level != nullptr; level = level->get_parent()) {
    for (const CLI::Option* option : level->get_options()) {
      if (option->get_lnames().empty() || (level != &app && option->get_lnames()[0] == "help")) {
        continue;
      }
      page.next.push_back({"--" + option->get_lnames()[0], first_line(option->get_description())});
    }
  }
  pages.push_back(std::move(page));
  for (const CLI::App* sub : below) add_pages(*sub, path + " " + sub->get_name(), pages);
}

/// A file of this process alone, gone with the object.
class ScratchFile {
 public:
  ScratchFile() {
    std::string name = (std::filesystem::temp_directory_path() / "takehold-XXXXXX").string();
    const int file = ::mkstemp(name.data());
    if (file < 0) throw sensors::Refused({"no-file", "no scratch file can be made", "", name, ""});
    ::close(file);
    path_ = name;
  }
  ~ScratchFile() {
    std::error_code ignored;
    std::filesystem::remove(path_, ignored);
  }
  ScratchFile(const ScratchFile&) = delete;
  ScratchFile& operator=(const ScratchFile&) = delete;
  const std::filesystem::path& path() const { return path_; }

 private:
  std::filesystem::path path_;
};

}  // namespace

std::vector<CommandPage> pages_of(const CLI::App& root) {
  std::vector<CommandPage> pages;
  add_pages(root, root.get_name(), pages);
  return pages;
}

CommandPage page_of_program(const std::string& name) {
  const ScratchFile words;
  ChildProgram child(program_beside_us(name), {"--help"}, words.path());
  while (child.is_running()) ::usleep(2'000);
  std::string help = read_text_file(words.path().string());
  if (child.stop() != 0 || help.empty()) {
    throw sensors::Refused({"no-help", name + " does not explain itself", help, name, ""});
  }
  const std::string path = program_beside_us(name).string();
  if (const auto at = help.find(path); at != std::string::npos) help.replace(at, path.size(), name);
  return {name, help, words_in(help)};
}

std::vector<NextWord> words_in(const std::string& help) {
  std::vector<NextWord> words;
  bool commands = false;
  std::istringstream lines(help);
  for (std::string line; std::getline(lines, line);) {
    const auto begin = line.find_first_not_of(' ');
    if (begin == std::string::npos) continue;
    if (begin == 0) commands = line == "Subcommands:";
    const auto word = commands ? begin : line.find("--");
    const bool is_listed = commands ? begin == kListIndent : begin > 0 && line[begin] == '-';
    if (!is_listed || word == std::string::npos) continue;
    const auto gap = line.find("  ", word);
    const auto brief = gap == std::string::npos ? gap : line.find_first_not_of(' ', gap);
    words.push_back({line.substr(word, line.find_first_of(" ,=[", word) - word),
                     brief == std::string::npos ? "" : line.substr(brief)});
  }
  return words;
}

}  // namespace takehold::client
