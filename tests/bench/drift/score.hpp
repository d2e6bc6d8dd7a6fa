// What the watch made of a trial, counted as docs/numerics/watching.md says.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "daemon/watch/watch.hpp"
#include "trial.hpp"

namespace takehold::bench {

struct Said {
  int second;
  daemon::Event event;
};

/// Feeds the trial through the daemon's own watch. `peek`, if there is one, sees it after each
/// round.
using Peek = std::function<void(int second, const daemon::Watch& watch)>;
std::vector<Said> watch(const Trial& trial, const Peek& peek = {});

struct Tally {
  int failures = 0, warned = 0;
  int slow = 0, slow_before = 0;
  std::vector<double> in_hand;       ///< share of min(departure to breach, horizon)
  std::vector<double> breach_error;  ///< share of the lead
  int faults = 0, named = 0;
  int falses = 0;
  double days = 0;

  void add(const Tally& other);
};

/// `remarks` gets a line for each thing missed or false.
Tally score(const Trial& trial, const std::vector<Said>& said, std::vector<std::string>& remarks);

double median(std::vector<double> values);  ///< NaN of none

}  // namespace takehold::bench
