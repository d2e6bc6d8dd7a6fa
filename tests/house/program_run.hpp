#pragma once
// Runs one of the built programs to its end and keeps what it said.
#include <string>
#include <vector>

namespace takehold::house {

struct ProgramRun {
  int exit_code = -1;  // 128 + signal when a signal ended it
  std::string output;  // stdout and stderr together
};

// `words[0]` is the program's path. Nothing of the words is read by a shell; stdin is empty.
// HOME and the XDG folders are `home`, so that no user's own files are looked at.
ProgramRun run(const std::vector<std::string>& words, const std::string& home);

// BUILD/bin/<name>.
std::string built(const std::string& name);

}  // namespace takehold::house
