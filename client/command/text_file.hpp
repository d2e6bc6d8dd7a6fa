// Reading and writing a whole file that the grower named.
#pragma once

#include <string>

namespace takehold::client {

/// The file's bytes; "-" is not special. Refuses with code "file-not-read" and the file as `where`.
std::string read_text_file(const std::string& path);

/// Writes beside it first and renames, so that a full disk leaves an old file whole. Refuses with
/// code "file-not-written".
void write_text_file(const std::string& path, const std::string& text);

}  // namespace takehold::client
