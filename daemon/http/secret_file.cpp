#include "daemon/http/secret_file.hpp"

#include <sys/stat.h>

#include <fstream>

namespace takehold::daemon {

using sensors::Problem;
using sensors::Result;

Result<std::string> read_secret(const std::filesystem::path& file) {
  struct stat state {};
  if (::stat(file.c_str(), &state) != 0) {
    return Problem{"no-file", "the secret's file cannot be read", "", file.string(), ""};
  }
  if ((state.st_mode & 077) != 0) {
    return Problem{"open-secret", "others can read this secret", "", file.string(),
                   "chmod 600 " + file.string()};
  }
  std::ifstream stream(file);
  std::string line;
  std::getline(stream, line);
  if (!line.empty() && line.back() == '\r') line.pop_back();
  if (line.empty()) return Problem{"empty-secret", "no secret in it", "", file.string(), ""};
  return Result<std::string>(boost::system::in_place_value, std::move(line));
}

}  // namespace takehold::daemon
