// On which days the grower sows and grafts.
#pragma once

#include <optional>

#include "client/season/season.hpp"

namespace takehold::client {

/// Not away, and one of the season's free days (all days when none are named).
bool is_work_day(const Season& season, Day day);

/// The last work day at or before `day`, no more than `reach` back.
std::optional<Day> work_day_before(const Season& season, Day day, std::chrono::days reach);
/// The first work day at or after `day`, no more than `reach` ahead.
std::optional<Day> work_day_after(const Season& season, Day day, std::chrono::days reach);

}  // namespace takehold::client
