// The file of a Unix socket.
#pragma once

#include <filesystem>

namespace takehold::daemon {

/// Whether a program listens there. A file that is left over does not.
bool somebody_answers(const std::filesystem::path& socket);

}  // namespace takehold::daemon
