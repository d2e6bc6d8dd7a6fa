// The name somebody may have meant.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace takehold::client {

/// Single letters typed wrongly, left out, added or exchanged between neighbours, counted.
int typing_distance(std::string_view a, std::string_view b);

/// The nearest of `names` if it is near enough to be meant: at most a third of its letters wrong
/// (two for names of up to six), or `typed` is its beginning.
std::optional<std::string> nearest_name(std::string_view typed, std::span<const std::string> names);

}  // namespace takehold::client
