// What is most worth trying next season, and what it would take to find out.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "client/takes/what_spoils.hpp"

namespace takehold::client {

struct Try {
  std::string what{};       ///< "sort stems closer: half the present mismatch"
  std::string why{};        ///< what it rests on, in words
  std::string source{};     ///< "own records", "published", "assumed"
  double gain_per_100 = 0;  ///< further plants of 100 grafts, expected, the chance of none included
  double rate_now = 0;      ///< of the grafts it is about
  double rate_tried = 0;    ///< if it is as it looks
  /// Grafts each way until Fisher's exact test finds it with 80 % power; none: over 300, or alike.
  std::optional<int> grafts_each{};
  std::string pairing{};            ///< one to try it on: the one grafted most; or two of them
  std::string other_pairing{};      ///< with a second pairing the trial is between the two
  std::vector<std::string> ways{};  ///< two words for a trial within one pairing
};

/// The `most` with the largest gain, largest first: differences seen in these batches, the cause
/// noted most often (taken to be halved: assumed), and what is published where it was not tried.
/// Empty while no graft has been judged.
std::vector<Try> things_to_try(std::span<const BatchFate> batches, const WhatSpoils& found,
                               std::size_t most = 3);

}  // namespace takehold::client
