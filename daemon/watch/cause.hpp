// Why the air goes where it goes, told from how temperature and vapour pressure moved together.
//
// Relative humidity falls because water left or because the air warmed, and the two want opposite
// remedies; so the change since the usual is parted into what the water did and what the warmth
// did. Air that goes to the room's in both at once is an opening; so is air that dries faster than
// it ever does by itself.
#pragma once

#include "daemon/watch/air_trends.hpp"
#include "daemon/watch/event.hpp"

namespace takehold::daemon {

/// What went out, or will: temperature and the side, or dry, or damp.
enum class Trouble { cold, hot, dry, damp };

/// While the usual is not known yet, told from the last quarter of an hour. unknown when that is
/// not there either, or no probe speaks.
Cause cause_of(Trouble trouble, const AirTrends& air);

enum class Haste { none, loss, gain };

/// Water goes or comes faster than this chamber's own devices ever make it: it goes (an
/// opening), or water comes (a spray, or the devices' answer to an opening).
Haste haste_of(const AirTrends& air);

}  // namespace takehold::daemon
