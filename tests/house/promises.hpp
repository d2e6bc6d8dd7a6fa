#pragma once
// What the pages promise a reader may type.
#include <filesystem>
#include <string>
#include <vector>

namespace takehold::house {

// One command line of a page, without what follows '#'. Words in quotes stay one word.
struct TypedLine {
  std::string where;  // "README.md:12"
  std::vector<std::string> words;
};

// The lines of `page` that are indented by four spaces and begin with `program`.
std::vector<TypedLine> typed_lines(const std::filesystem::path& root, const std::string& page,
                                   const std::string& program);

}  // namespace takehold::house
