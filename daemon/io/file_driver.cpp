#include "daemon/io/file_driver.hpp"

#include <algorithm>
#include <fstream>

namespace takehold::daemon {

using sensors::Problem;
using sensors::Result;

namespace {

/// Only the end of a file is looked at: two of the longest lines.
constexpr std::streamoff kTail = 8192;

}  // namespace

awaitable<Result<void>> FileDriver::open() {
  std::error_code error;
  if (std::filesystem::is_regular_file(file_, error)) co_return Result<void>();
  co_return Problem{"cannot-open", "there is no such file", "", file_.string(), ""};
}

awaitable<Result<sensors::Decoded>> FileDriver::ask(std::chrono::milliseconds) {
  std::error_code error;
  const auto changed = std::filesystem::last_write_time(file_, error);
  if (error) co_return Problem{"lost", "the file is gone", error.message(), file_.string(), ""};
  if (changed == changed_) {
    co_return Problem{"silent", "the file has not changed", "", file_.string(), ""};
  }
  changed_ = changed;
  const auto line = last_line();
  if (!line) co_return line.error();
  co_return decoder_.decode(*line);
}

Result<std::string> FileDriver::last_line() const {
  std::ifstream stream(file_, std::ios::binary);
  stream.seekg(0, std::ios::end);
  const std::streamoff size = stream.tellg();
  if (!stream) return Problem{"lost", "the file cannot be read", "", file_.string(), ""};
  std::string tail(std::size_t(std::min(size, kTail)), '\0');
  stream.seekg(size - std::streamoff(tail.size()));
  stream.read(tail.data(), std::streamsize(tail.size()));
  while (!tail.empty() && (tail.back() == '\n' || tail.back() == '\r')) tail.pop_back();
  const auto start = tail.rfind('\n');
  if (start != std::string::npos) tail.erase(0, start + 1);
  return Result<std::string>(boost::system::in_place_value, std::move(tail));
}

}  // namespace takehold::daemon
