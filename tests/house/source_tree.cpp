#include "tests/house/source_tree.hpp"

#include <algorithm>
#include <array>
#include <fstream>
#include <sstream>

namespace takehold::house {
namespace {

namespace fs = std::filesystem;

constexpr std::array kFolders = {"sensors", "daemon", "client", "tests", "docs", "config", ".ci"};

void add_folder(const fs::path& root, const fs::path& folder, std::vector<std::string>& files) {
  if (!fs::is_directory(folder)) return;
  for (const auto& entry : fs::recursive_directory_iterator(folder)) {
    const auto name = entry.path().lexically_relative(root).generic_string();
    if (entry.is_regular_file() && name.find("__pycache__") == std::string::npos) {
      files.push_back(name);
    }
  }
}

}  // namespace

std::vector<std::string> files_of(const fs::path& root) {
  std::vector<std::string> files;
  for (const char* folder : kFolders) add_folder(root, root / folder, files);
  for (const auto& entry : fs::directory_iterator(root)) {
    const auto name = entry.path().filename().string();
    if (entry.is_regular_file() && name != ".git" && name != "compile_commands.json") {
      files.push_back(name);
    }
  }
  std::sort(files.begin(), files.end());
  return files;
}

std::string text_of(const fs::path& file) {
  std::ifstream in(file, std::ios::binary);
  std::ostringstream text;
  text << in.rdbuf();
  return text.str();
}

std::vector<std::string> lines_of(const fs::path& file) {
  std::vector<std::string> lines;
  std::istringstream in(text_of(file));
  for (std::string line; std::getline(in, line);) lines.push_back(line);
  return lines;
}

std::vector<std::string> files_with(const fs::path& root, const std::string& folder,
                                    const std::string& mark) {
  std::vector<std::string> found;
  for (const auto& file : files_of(root)) {
    if (!file.starts_with(folder) || !file.ends_with(".toml")) continue;
    if (("\n" + text_of(root / file)).find("\n" + mark) != std::string::npos) {
      found.push_back(file);
    }
  }
  return found;
}

bool is_cpp(const std::string& file) {
  return file.ends_with(".cpp") || file.ends_with(".hpp") || file.ends_with(".h");
}

std::vector<Include> includes_of(const fs::path& root) {
  std::vector<Include> includes;
  for (const auto& file : files_of(root)) {
    const bool layered =
        file.starts_with("sensors/") || file.starts_with("daemon/") || file.starts_with("client/");
    if (!layered || !is_cpp(file)) continue;
    int number = 0;
    for (const auto& line : lines_of(root / file)) {
      ++number;
      const auto hash = line.find_first_not_of(" \t");
      if (hash == std::string::npos || line[hash] != '#') continue;
      const auto word = line.find_first_not_of(" \t", hash + 1);
      if (word == std::string::npos || line.compare(word, 7, "include") != 0) continue;
      const auto open = line.find_first_of("<\"", word);
      const auto close = line.find_first_of(">\"", open + 1);
      if (open == std::string::npos || close == std::string::npos) continue;
      includes.push_back(
          {file, number, line.substr(open + 1, close - open - 1), line[open] == '"'});
    }
  }
  return includes;
}

}  // namespace takehold::house
