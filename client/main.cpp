// takehold: what the grower does.
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
  return client::run_program(arguments,
                             {std::cin, std::cout, std::cerr, client::style_of_stdout(), clock});
}
