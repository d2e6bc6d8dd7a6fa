// Grafts and the stages of healing, as calendar lines.
#pragma once

#include "client/command/calendar_lines.hpp"

namespace takehold::client {

/// Planned grafts with their stages as they fall; once a batch is made, its own day and stages
/// under the same names. Batches that no plan asked for have names of their own.
void add_grafts(const Book& book, std::vector<CalendarLine>& lines);

/// As the versions of a planned graft once stood.
void add_former_grafts(const Book& book, const std::string& key, std::vector<CalendarLine>& lines);

}  // namespace takehold::client
