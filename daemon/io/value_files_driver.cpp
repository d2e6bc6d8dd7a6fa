#include "daemon/io/value_files_driver.hpp"

#include <fcntl.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <cstring>

#include "daemon/io/kernel_folder.hpp"
#include "sensors/codec/told.hpp"

namespace takehold::daemon {

using sensors::Decoded;
using sensors::Problem;
using sensors::Result;

namespace {

constexpr std::chrono::seconds kToFind{2};

Problem hanging() {
  return {"silent", "the sensor's files do not answer", "", "", ""};
}

/// A file that is gone is a lost line; one that cannot be read just now is a sensor that failed.
Result<double> number_in(const std::filesystem::path& file) {
  const int line = ::open(file.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK);
  if (line < 0) return Problem{"lost", std::strerror(errno), "", file.string(), ""};
  std::array<char, 64> bytes;
  const auto count = ::read(line, bytes.data(), bytes.size());
  const int error = errno;
  ::close(line);
  if (count < 0) return Problem{"sensor-failed", std::strerror(error), "", file.string(), ""};
  return sensors::parse_number({bytes.data(), std::size_t(count)});
}

Result<Decoded> read_all(const ValueFiles& files) {
  Decoded decoded;
  std::optional<Problem> failure;
  for (const auto told : sensors::kAllTold) {
    const auto& place = sensors::place_of(files, told);
    if (!place) continue;
    if (const auto number = number_in(place->file)) {
      sensors::put(decoded, told, (*number + place->offset) * place->scale);
    } else {
      failure = number.error();
    }
  }
  if (failure && (decoded.is_empty() || failure->code == "lost")) return *failure;
  return decoded;
}

}  // namespace

awaitable<Result<void>> ValueFilesDriver::open() {
  if (files_) co_return Result<void>();
  if (const auto* files = std::get_if<ValueFiles>(&from_)) {
    files_ = *files;
    co_return Result<void>();
  }
  // Named, for g++ 12 ends what is made within a co_await expression twice.
  std::function<Result<ValueFiles>()> find = [folder = std::get<KernelFolder>(from_).folder] {
    return find_value_files(folder);
  };
  const Result<ValueFiles> late = hanging();
  auto found = co_await run_aside(aside_, find, kToFind, late);
  if (!found) co_return found.error();
  files_ = *found;
  co_return Result<void>();
}

awaitable<Result<Decoded>> ValueFilesDriver::ask(std::chrono::milliseconds timeout) {
  std::function<Result<Decoded>()> read = [files = *files_] { return read_all(files); };
  const Result<Decoded> late = hanging();
  co_return co_await run_aside(aside_, read, timeout, late);
}

}  // namespace takehold::daemon
