// What an R script of this folder prints.
#pragma once

#include <gtest/gtest.h>

#include <array>
#include <cstdio>
#include <string>

namespace takehold::client {

/// Standard output of `Rscript FILE ARGUMENTS`; a failure fails the test.
inline std::string r_answers(const std::string& script, const std::string& arguments = "") {
  const std::string command =
      "Rscript " TAKEHOLD_SOURCE_DIR "/tests/client/takes/" + script + " " + arguments;
  std::string out;
  std::array<char, 4096> chunk;
  FILE* pipe = popen(command.c_str(), "r");
  if (pipe == nullptr) return out;
  while (std::size_t n = std::fread(chunk.data(), 1, chunk.size(), pipe)) {
    out.append(chunk.data(), n);
  }
  EXPECT_EQ(pclose(pipe), 0) << command;
  return out;
}

}  // namespace takehold::client
