// `takehold manual PROGRAM`: the manual page of each of the three programs, made of what its --help
// says. In the form of man-pages(7).
#include <fmt/format.h>

#include <cctype>
#include <nlohmann/json.hpp>
#include <sstream>

#include "client/command/command_pages.hpp"
#include "client/command/command_tree.hpp"

namespace takehold::client {
namespace {

struct About {
  const char* name;
  const char* brief;
  const char* section;
  const char* files;
};
constexpr About kPrograms[] = {
    {"takehold", "plans, records and learns for growers who graft tomatoes", "1",
     "$XDG_DATA_HOME/takehold/book.db, the book\n.br\n$XDG_CONFIG_HOME/takehold/takehold.toml, "
     "settings"},
    {"chamberd", "watches a healing chamber, keeps its log, warns", "8",
     "$XDG_CONFIG_HOME/takehold/chamberd.toml or /etc/takehold/chamberd.toml, settings\n.br\n"
     "$STATE_DIRECTORY/chamber.db, the log"},
    {"probe-sim", "a simulated healing chamber that speaks as real probes do", "1", "none"},
};

/// Text as it stands, in a page: roff's own signs taken away.
std::string roff(const std::string& text) {
  std::string page;
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    if (line.starts_with('.') || line.starts_with('\'')) page += "\\&";
    for (const char c : line) {
      if (c == '\\') {
        page += "\\e";
      } else if (c == '-') {
        page += "\\-";
      } else {
        page += c;
      }
    }
    page += '\n';
  }
  return page;
}

std::string upper(std::string text) {
  for (char& c : text) c = static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
  return text;
}

std::string see_also(const About& program) {
  std::string text;
  for (const About& other : kPrograms) {
    if (&other == &program) continue;
    if (!text.empty()) text += ",\n";
    text += fmt::format("{}({})", other.name, other.section);
  }
  return roff(text);
}

std::string manual_text(const About& program, const std::vector<CommandPage>& pages) {
  std::string text = fmt::format(".TH {} {} \"\" \"takehold {}\"\n", upper(program.name),
                                 program.section, TAKEHOLD_VERSION);
  text += fmt::format(".SH NAME\n{} \\- {}\n", program.name, program.brief);
  text += ".SH DESCRIPTION\n.nf\n" + roff(pages.front().help) + ".fi\n";
  if (pages.size() > 1) text += ".SH COMMANDS\n";
  for (std::size_t i = 1; i < pages.size(); ++i) {
    text += fmt::format(".SS \"{}\"\n.nf\n{}.fi\n", pages[i].path, roff(pages[i].help));
  }
  text += fmt::format(".SH FILES\n{}\n", program.files);
  text += ".SH EXIT STATUS\n0 done, 1 refused or failed, 2 wrong usage.\n";
  return text + ".SH SEE ALSO\n" + see_also(program);
}

void manual(const std::string& name, const CLI::App& root, Context& context) {
  for (const About& program : kPrograms) {
    if (program.name != name) continue;
    const bool own = name == root.get_name();
    const auto pages = own ? pages_of(root) : std::vector{page_of_program(name)};
    const std::string text = manual_text(program, pages);
    context.out.text(text);
    context.out.document({{"program", name}, {"section", program.section}, {"page", text}});
  }
}

}  // namespace

void add_manual(CommandTree& tree) {
  CLI::App& app =
      tree.command("manual", {kBook, "the manual page of takehold, chamberd or probe-sim",
                              "Made of what --help says; for man(1) and for packages.",
                              "manual takehold > takehold.1\nmanual chamberd > chamberd.8"});
  const auto name = std::make_shared<std::string>("takehold");
  app.add_option("PROGRAM", *name, "takehold, chamberd or probe-sim")
      ->check(CLI::IsMember({"takehold", "chamberd", "probe-sim"}));
  tree.action(app, [name, &tree](Context& context) { manual(*name, tree.root(), context); });
}

}  // namespace takehold::client
