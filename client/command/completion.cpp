// `takehold completion SHELL`: what a shell needs to finish words of the three programs.
#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "client/command/command_pages.hpp"
#include "client/command/command_tree.hpp"

namespace takehold::client {
namespace {

/// In single quotes, as all three shells understand it.
std::string quoted(std::string text) {
  for (auto at = text.find('\''); at != std::string::npos; at = text.find('\'', at + 4)) {
    text.replace(at, 1, R"('\'')");
  }
  return "'" + text + "'";
}

std::string words_of(const CommandPage& page) {
  std::string words;
  for (const NextWord& next : page.next) words += (words.empty() ? "" : " ") + next.word;
  return words;
}

std::string table_of(const std::vector<CommandPage>& pages) {
  std::string table;
  for (const CommandPage& page : pages) {
    table += fmt::format("  [{}]={}\n", quoted(page.path), quoted(words_of(page)));
  }
  return table;
}

// Both shells walk along the typed words as far as they name commands, and offer what may follow
// there; where nothing of ours fits, the shell's own file names stand in.
constexpr const char* kBash =
    R"(# Completion of takehold, chamberd and probe-sim for bash: source this file.
declare -gA _takehold_next=(
{}){}
complete -o default -F _takehold takehold chamberd probe-sim
)";
constexpr const char* kBashFunction = R"(
_takehold() {
  local path=${1##*/} word
  for word in "${COMP_WORDS[@]:1:COMP_CWORD-1}"; do
    [[ -n ${_takehold_next["$path $word"]} ]] && path="$path $word"
  done
  COMPREPLY=($(compgen -W "${_takehold_next[$path]}" -- "$2"))
})";

constexpr const char* kZsh = R"(#compdef takehold chamberd probe-sim
# Completion of takehold, chamberd and probe-sim for zsh: a file _takehold in a folder of $fpath.
typeset -gA _takehold_next
_takehold_next=(
{}){}
if [[ $funcstack[1] == _takehold ]]; then _takehold "$@"; else compdef _takehold takehold chamberd probe-sim; fi
)";
constexpr const char* kZshFunction = R"(
_takehold() {
  local path_typed=${words[1]:t} word
  for word in ${words[2,CURRENT-1]}; do
    [[ -n ${_takehold_next[$path_typed $word]} ]] && path_typed="$path_typed $word"
  done
  compadd -- ${=_takehold_next[$path_typed]} || _files
})";

constexpr const char* kFishFunction = R"(# Completion of takehold, chamberd and probe-sim for fish.
function __takehold_is_at
  set -l path (basename (commandline -opc)[1])
  for word in (commandline -opc)[2..]
    contains -- "$path $word" $__takehold_paths; and set path "$path $word"
  end
  test "$path" = "$argv"
end
)";

std::string bash_text(const std::vector<CommandPage>& pages) {
  return fmt::format(kBash, table_of(pages), kBashFunction);
}

/// zsh's own array syntax has no [key]=value before 5.5 and wants pairs.
std::string zsh_text(const std::vector<CommandPage>& pages) {
  std::string table;
  for (const CommandPage& page : pages) {
    table += fmt::format("  {} {}\n", quoted(page.path), quoted(words_of(page)));
  }
  return fmt::format(kZsh, table, kZshFunction);
}

std::string fish_text(const std::vector<CommandPage>& pages) {
  std::string paths = "set -g __takehold_paths", lines;
  for (const CommandPage& page : pages) {
    paths += " " + quoted(page.path);
    const std::string program = page.path.substr(0, page.path.find(' '));
    for (const NextWord& next : page.next) {
      const bool option = next.word.starts_with("--");
      lines += fmt::format("complete -c {} -n {} {} {} -d {}\n", program,
                           quoted("__takehold_is_at " + page.path), option ? "-l" : "-f -a",
                           option ? next.word.substr(2) : next.word, quoted(next.brief));
    }
  }
  return std::string(kFishFunction) + paths + "\n" + lines;
}

void completion(const std::string& shell, const CLI::App& root, Context& context) {
  auto pages = pages_of(root);
  for (const char* name : {"chamberd", "probe-sim"}) pages.push_back(page_of_program(name));
  const std::string text = shell == "bash"  ? bash_text(pages)
                           : shell == "zsh" ? zsh_text(pages)
                                            : fish_text(pages);
  context.out.text(text);
  context.out.document({{"shell", shell}, {"script", text}});
}

}  // namespace

void add_completion(CommandTree& tree) {
  CLI::App& app = tree.command(
      "completion", {kBook, "lets a shell finish the words of the three programs",
                     "Prints a script; the shell reads it when it starts.",
                     "completion bash > ~/.local/share/bash-completion/completions/takehold\n"
                     "completion fish > ~/.config/fish/completions/takehold.fish"});
  const auto shell = std::make_shared<std::string>();
  app.add_option("SHELL", *shell, "bash, zsh or fish")
      ->required()
      ->check(CLI::IsMember({"bash", "zsh", "fish"}));
  tree.action(app, [shell, &tree](Context& context) { completion(*shell, tree.root(), context); });
}

}  // namespace takehold::client
