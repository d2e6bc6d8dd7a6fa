#pragma once
// The project's own files, as the house rules see them.
//
// Paths are relative to the root and use '/'. Build folders, .git and caches are left out.
#include <filesystem>
#include <string>
#include <vector>

namespace takehold::house {

// One #include line. `target` is what stands between the quotes or angle brackets.
struct Include {
  std::string file;
  int line = 0;
  std::string target;
  bool quoted = false;
};

// Every regular file under the folders that the project owns, and at its root, sorted.
std::vector<std::string> files_of(const std::filesystem::path& root);

// The .toml files below `folder` that have `mark` at the beginning of a line.
std::vector<std::string> files_with(const std::filesystem::path& root, const std::string& folder,
                                    const std::string& mark);

std::string text_of(const std::filesystem::path& file);
std::vector<std::string> lines_of(const std::filesystem::path& file);

bool is_cpp(const std::string& file);

// Every #include of the C++ files in sensors/, daemon/ and client/, in file order.
std::vector<Include> includes_of(const std::filesystem::path& root);

}  // namespace takehold::house
