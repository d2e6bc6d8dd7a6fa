// Reading a whole file that the grower named.
#pragma once

#include <string>

namespace takehold::client {

/// The file's bytes; "-" is not special. Refuses with code "file-not-read" and the file as `where`.
std::string read_text_file(const std::string& path);

}  // namespace takehold::client
