// Text inside HTML or XML.
#pragma once

#include <string>
#include <string_view>

namespace takehold::sensors {

/// The text with & < > " as entities: safe between tags and inside double quotes.
std::string markup_text(std::string_view text);

}  // namespace takehold::sensors
