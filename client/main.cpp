// takehold: what the grower does.
#include <unistd.h>

#include <chrono>
#include <iostream>
#include <string>
#include <vector>

#include "client/command/program.hpp"

int main(int argc, char** argv) {
  using namespace takehold;
  const std::vector<std::string> arguments(argv + 1, argv + argc);
  const auto clock =
      std::chrono::floor<std::chrono::milliseconds>(std::chrono::system_clock::now());
  const bool at_terminal = ::isatty(STDIN_FILENO) != 0 && ::isatty(STDOUT_FILENO) != 0;
  return client::run_program(
      arguments, {std::cin, std::cout, std::cerr, client::style_of_stdout(), clock, at_terminal});
}
