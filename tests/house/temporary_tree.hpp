#pragma once
// A small tree of files in the temporary folder, removed at the end: for planting breaches.
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <stdexcept>
#include <string>

namespace takehold::house {

class TemporaryTree {
 public:
  TemporaryTree() {
    std::string name = (std::filesystem::temp_directory_path() / "house-XXXXXX").string();
    if (::mkdtemp(name.data()) == nullptr) throw std::runtime_error("no temporary folder: " + name);
    root_ = name;
  }
  ~TemporaryTree() {
    std::error_code ignored;
    std::filesystem::remove_all(root_, ignored);
  }
  TemporaryTree(const TemporaryTree&) = delete;
  TemporaryTree& operator=(const TemporaryTree&) = delete;

  const std::filesystem::path& root() const { return root_; }

  void write(const std::string& name, const std::string& text) const {
    std::filesystem::create_directories((root_ / name).parent_path());
    std::ofstream(root_ / name) << text;
  }

 private:
  std::filesystem::path root_;
};

}  // namespace takehold::house
