// Parts of messages that other messages contain. Only for the sources of this folder.
#pragma once

#include "daemon/api/occupant_message.hpp"
#include "daemon/api/warning_message.hpp"
#include "daemon/healing/json_object.hpp"

namespace takehold::daemon {

OccupantMessage occupant_fields(const JsonObject& object);
WarningMessage warning_fields(const JsonObject& object);

}  // namespace takehold::daemon
