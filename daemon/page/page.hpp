// The chamber page for a phone: what is it now, is that right, what is next. Plain HTML, no script.
#pragma once

#include <string>

#include "daemon/api/status_message.hpp"

namespace takehold::daemon {

std::string page_of(const StatusMessage& status);

}  // namespace takehold::daemon
