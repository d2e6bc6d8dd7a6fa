// The style sheet and the script that stand in the page.
#pragma once

#include <string_view>

namespace takehold::daemon {

std::string_view page_style();
std::string_view page_script();

}  // namespace takehold::daemon
