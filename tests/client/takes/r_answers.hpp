// What an R script of this folder prints.
#pragma once

#include <string>

#include "embedded/places.hpp"
#include "tests/support/running_program.hpp"

namespace takehold::client {

/// Standard output of `Rscript FILE ARGUMENTS`; a failure fails the test.
inline std::string r_answers(const std::string& script, const std::string& arguments = "") {
  return testing::answer_of("Rscript " TAKEHOLD_SOURCE_DIR "/tests/client/takes/" + script + " " +
                            arguments);
}

}  // namespace takehold::client
