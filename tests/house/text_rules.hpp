#pragma once
// Rules about text: no long file, no path of somebody's machine, no link that leads nowhere.
// Each returns one sentence a breach, beginning with the file; empty when the tree keeps the rule.
#include <filesystem>
#include <string>
#include <vector>

namespace takehold::house {

// Source files (not data, not pages of docs/) of more than `limit` lines.
std::vector<std::string> long_files(const std::filesystem::path& root, int limit);

// Files that name a place of one machine: a home folder or a work folder at the root of the disk.
std::vector<std::string> machine_paths(const std::filesystem::path& root);

// Lines of the three layers that read a clock or a random device outside the shell: the mains,
// daemon/io, daemon/http, client/command and client/link. Logic is given its time and its seed.
std::vector<std::string> clock_readers(const std::filesystem::path& root);

// Lines that draw from a std:: distribution: each standard library draws differently, and the same
// seed must give the same plan on any machine.
std::vector<std::string> unrepeatable_draws(const std::filesystem::path& root);

// Links in Markdown that lead to no file of the project, or to no heading of it.
// Links to the web are not followed.
std::vector<std::string> broken_links(const std::filesystem::path& root);

}  // namespace takehold::house
