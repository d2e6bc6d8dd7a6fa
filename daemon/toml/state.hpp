// What a TomlDocument, its tables and its values share. Only for the sources of this folder.
#pragma once

#include <toml++/toml.h>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "sensors/quantity/problem.hpp"

namespace takehold::daemon {

struct TomlState {
  struct Mistake {
    unsigned line;
    sensors::Problem problem;
  };

  std::string file;
  toml::table root;
  std::vector<Mistake> mistakes;
  /// For each table a reader has looked into, the keys it asked for.
  std::map<const toml::table*, std::set<std::string, std::less<>>> asked;

  std::string where(unsigned line) const { return file + ":" + std::to_string(line); }
  void add(unsigned line, sensors::Problem problem) {
    problem.where = where(line);
    mistakes.push_back({line, std::move(problem)});
  }
};

inline unsigned line_of(const toml::node& node) {
  return node.source().begin.line;
}

}  // namespace takehold::daemon
