// The program called without a command.
#pragma once

#include "client/command/context.hpp"

namespace takehold::client {

/// With a book: what there is to do today. Without one: a greeting that says what this is for and
/// how to begin.
void front_door(Context& context);

}  // namespace takehold::client
