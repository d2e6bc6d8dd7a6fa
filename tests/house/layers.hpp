#pragma once
// Who may include whom. docs/architecture.md draws it; here it is enforced.
//
//   client -> daemon -> sensors -> libraries
//   from daemon/ the client takes the five open folders: store toml http healing api
//   inside the client: command > terminal, print, link > plan > growth, match, takes > season;
//                      book > season; only command sees book and link
//   libraries that are kept in their place: SQLite, Asio and Beast, CLI11, curses
#include <filesystem>
#include <string>
#include <vector>

namespace takehold::house {

// One sentence a breach, "file:line: why"; empty when the tree keeps every rule.
std::vector<std::string> layer_breaches(const std::filesystem::path& root);

}  // namespace takehold::house
