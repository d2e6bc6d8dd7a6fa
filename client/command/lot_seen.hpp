// What the book knows of a lot's growth, as the mathematics takes it.
#pragma once

#include "client/command/standing.hpp"
#include "client/growth/lived_warmth.hpp"
#include "client/growth/lot_record.hpp"
#include "client/growth/seedling_draws.hpp"

namespace takehold::client {

/// So far seedlings are looked at, from their sowing on: older ones are never grafted.
inline constexpr std::chrono::days kSeedlingLife{150};

/// The bench where sowings start; the default where the book has none.
BenchCycle first_bench(const Book& book);

/// Where the sowing stood, and the warmth of those benches; the chamber counts as the bench before.
LivedWarmth warmth_of(const Book& book, const Sowing& sowing, sensors::Instant now);

/// One sowing with its counts and readings; what was told of a moment after `now` is left out.
SowingSeen sowing_seen(const Book& book, const Sowing& sowing, const LivedWarmth& warmth,
                       sensors::Instant now);

/// The lot with all its sowings of the last kSeedlingLife. Code "not-there" for a lot whose variety
/// does not stand.
LotSeen lot_seen(const Book& book, const Lot& lot, sensors::Instant now);

/// What stands of a sowing, and which measured seedlings do not any more.
TrayState tray_state(const Book& book, const SowingState& state);

}  // namespace takehold::client
