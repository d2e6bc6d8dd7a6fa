// The known name a mistyped one most likely meant.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace takehold::daemon {

/// Letters to insert, drop, change or swap with their neighbour to get from `a` to `b`, bytewise.
std::size_t typing_distance(std::string_view a, std::string_view b);

/// The name of `names` nearest to `word`, or "" if none is near: at most one slip in three letters.
std::string nearest_name(std::string_view word, const std::vector<std::string>& names);

}  // namespace takehold::daemon
