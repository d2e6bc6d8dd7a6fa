// What makes a regime usable, in one place for files and messages.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "daemon/healing/regime.hpp"
#include "sensors/quantity/problem.hpp"

namespace takehold::daemon {

inline constexpr std::size_t kMostStages = 30;
inline constexpr std::chrono::minutes kLongestStage = std::chrono::days(60);

struct RegimeMistake {
  std::optional<std::size_t> stage;  ///< index, or null: the regime itself
  std::string key;                   ///< of the file format
  sensors::Problem problem;          ///< `where` empty
};

/// Empty: it can be used. Names are there and unique, there are stages, each lasts a while, bands
/// are ordered and within what air can be, humidity is asked for in one way only.
std::vector<RegimeMistake> check_regime(const Regime& regime);

}  // namespace takehold::daemon
