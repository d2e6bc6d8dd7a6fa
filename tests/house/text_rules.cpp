#include "tests/house/text_rules.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <set>

#include "tests/house/source_tree.hpp"

namespace takehold::house {
namespace {

namespace fs = std::filesystem;

constexpr std::array kSourceEnds = {".cpp", ".hpp", ".h",  ".cmake", "CMakeLists.txt", ".py",
                                    ".R",   ".sh",  ".js", ".sql",   ".html",          ".css"};

bool is_source(const std::string& file) {
  if (file == "config/setup" || file == ".ci/run") return true;
  return std::any_of(kSourceEnds.begin(), kSourceEnds.end(),
                     [&](const char* end) { return file.ends_with(end); });
}

bool is_word(char c) {
  return std::isalnum(static_cast<unsigned char>(c)) || c == '_' || c == '-';
}

// The place stands alone: not the beginning of a longer word, nor the end of a longer path.
bool names_place(const std::string& line, const std::string& place) {
  for (auto at = line.find(place); at != std::string::npos; at = line.find(place, at + 1)) {
    const char before = at == 0 ? ' ' : line[at - 1];
    const auto end = at + place.size();
    const char after = end < line.size() ? line[end] : ' ';
    const bool starts = !is_word(before) && before != '.' && before != '}' && before != ')';
    if (starts && !is_word(after)) return true;
  }
  return false;
}

// How the usual renderers make an anchor of a heading: lower case, spaces to '-', marks dropped.
std::string anchor_of(const std::string& heading) {
  std::string anchor;
  for (const char c : heading.substr(heading.find_first_not_of("# "))) {
    if (c == ' ') anchor += '-';
    if (is_word(c) || (c & '\x80') != 0) {
      anchor += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    }
  }
  return anchor;
}

std::set<std::string> anchors_of(const fs::path& page) {
  std::set<std::string> anchors;
  for (const auto& line : lines_of(page)) {
    if (line.starts_with("#") && line.find_first_not_of("# ") != std::string::npos) {
      anchors.insert(anchor_of(line));
    }
  }
  return anchors;
}

bool leads_somewhere(const fs::path& root, const std::string& page, const std::string& link) {
  const auto hash = link.find('#');
  const auto name = link.substr(0, hash);
  const auto target = name.empty() ? root / page : root / fs::path(page).parent_path() / name;
  if (!fs::exists(target)) return false;
  return hash == std::string::npos || anchors_of(target).contains(link.substr(hash + 1));
}

// Lines of C++ in the three layers, but for files that begin with one of `spared`, that hold one of
// `marks`. What follows // on a line does not count.
std::vector<std::string> marked_lines(const fs::path& root, const std::vector<std::string>& marks,
                                      const std::vector<std::string>& spared) {
  std::vector<std::string> found;
  for (const auto& file : files_of(root)) {
    const bool layered =
        file.starts_with("sensors/") || file.starts_with("daemon/") || file.starts_with("client/");
    if (!layered || !is_cpp(file)) continue;
    if (std::any_of(spared.begin(), spared.end(),
                    [&](const auto& name) { return file.starts_with(name); })) {
      continue;
    }
    int number = 0;
    for (const auto& line : lines_of(root / file)) {
      ++number;
      const auto code = line.substr(0, line.find("//"));
      for (const auto& mark : marks) {
        if (code.find(mark) == std::string::npos) continue;
        found.push_back(file + ":" + std::to_string(number) + ": " + mark);
      }
    }
  }
  return found;
}

}  // namespace

std::vector<std::string> clock_readers(const fs::path& root) {
  std::vector<std::string> shell = {"sensors/sim/probe_sim", "daemon/main.cpp", "daemon/io/",
                                    "daemon/http/",          "client/main.cpp", "client/command/",
                                    "client/link/"};
  auto found = marked_lines(
      root,
      {"system_clock::now", "steady_clock::now", "gettimeofday(", "clock_gettime(", "std::time("},
      shell);
  shell.push_back("client/book/book.cpp");  // a new book draws its identity
  const auto random = marked_lines(root, {"random_device"}, shell);
  found.insert(found.end(), random.begin(), random.end());
  return found;
}

std::vector<std::string> unrepeatable_draws(const fs::path& root) {
  return marked_lines(
      root,
      {"std::normal_distribution", "std::lognormal_distribution", "std::uniform_real_distribution",
       "std::uniform_int_distribution", "std::bernoulli_distribution", "std::binomial_distribution",
       "std::gamma_distribution", "std::poisson_distribution", "std::discrete_distribution",
       "std::exponential_distribution", "std::shuffle(", "std::default_random_engine"},
      {});
}

std::vector<std::string> long_files(const fs::path& root, int limit) {
  std::vector<std::string> breaches;
  for (const auto& file : files_of(root)) {
    if (!is_source(file)) continue;
    const auto count = lines_of(root / file).size();
    if (count > static_cast<std::size_t>(limit)) {
      breaches.push_back(file + ": " + std::to_string(count) + " lines");
    }
  }
  return breaches;
}

std::vector<std::string> machine_paths(const fs::path& root) {
  // Put together here, so that this file does not name them.
  const std::array places = {std::string("/") + "work", std::string("/") + "root",
                             std::string("/") + "home"};
  std::vector<std::string> breaches;
  for (const auto& file : files_of(root)) {
    int number = 0;
    for (const auto& line : lines_of(root / file)) {
      ++number;
      for (const auto& place : places) {
        if (!names_place(line, place)) continue;
        breaches.push_back(file + ":" + std::to_string(number) + ": names " + place);
      }
    }
  }
  return breaches;
}

std::vector<std::string> broken_links(const fs::path& root) {
  std::vector<std::string> breaches;
  for (const auto& file : files_of(root)) {
    if (!file.ends_with(".md")) continue;
    int number = 0;
    for (const auto& line : lines_of(root / file)) {
      ++number;
      for (auto at = line.find("]("); at != std::string::npos; at = line.find("](", at + 2)) {
        const auto end = line.find(')', at);
        if (end == std::string::npos) continue;
        const auto link = line.substr(at + 2, end - at - 2);
        if (link.starts_with("http") || leads_somewhere(root, file, link)) continue;
        breaches.push_back(file + ":" + std::to_string(number) + ": leads nowhere: " + link);
      }
    }
  }
  return breaches;
}

}  // namespace takehold::house
