// sow: a lot into trays.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "client/command/recording.hpp"
#include "client/season/place.hpp"
#include "client/season/planned.hpp"
#include "client/season/sowing.hpp"

namespace takehold::client {

/// What is to be sown. Left out: cells by the season's seeds a cell, the season's first bench.
struct SowOrder {
  std::string lot;
  int seeds = 0;
  std::optional<int> cells{};
  std::optional<std::string> bench{};
  std::optional<Side> side{};
  std::vector<std::string> pairings{};  ///< "P3"
  std::optional<std::string> planned{};
};

/// Records one sowing. Refuses "bad-count", "sown-more-than-there-is" and unknown names.
Sowing sow(const Telling& telling, const SowOrder& order);

/// The plan's lines of that day that nothing fulfils yet.
std::vector<PlannedSowing> planned_and_not_sown(const Book& book, sensors::Day day);

/// Records all of `lines` as planned, in one command and one undo. Refuses as sow().
std::vector<Sowing> sow_planned(const Telling& telling, std::span<const PlannedSowing> lines);

}  // namespace takehold::client
