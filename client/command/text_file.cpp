#include "client/command/text_file.hpp"

#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <iterator>

#include "sensors/quantity/problem.hpp"

namespace takehold::client {

std::string read_text_file(const std::string& path) {
  const auto refuse = [&](const char* why) {
    throw sensors::Refused(
        sensors::Problem{"file-not-read", "the file cannot be read", why, path, ""});
  };
  if (std::filesystem::is_directory(path)) refuse("it is a folder");
  std::ifstream file(path, std::ios::binary);
  if (!file) refuse(std::strerror(errno));
  std::string text{std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
  if (file.bad()) refuse("it could not be read to its end");
  return text;
}

void write_text_file(const std::string& path, const std::string& text) {
  namespace fs = std::filesystem;
  const std::string beside = path + ".new";
  std::ofstream file(beside, std::ios::binary);
  file << text;
  file.close();
  std::error_code failed;
  if (file) fs::rename(beside, path, failed);
  if (file && !failed) return;
  const std::string why = failed ? failed.message() : std::strerror(errno);
  fs::remove(beside, failed);
  throw sensors::Refused({"file-not-written", "the file cannot be written", why, path, ""});
}

}  // namespace takehold::client
