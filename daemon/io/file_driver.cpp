#include "daemon/io/file_driver.hpp"

#include <algorithm>
#include <fstream>

namespace takehold::daemon {

using sensors::Problem;
using sensors::Result;

namespace {

/// Only the end of a file is looked at: two of the longest lines.
constexpr std::streamoff kTail = 8192;

Result<std::string> last_line_of(const std::filesystem::path& file) {
  std::ifstream stream(file, std::ios::binary);
  stream.seekg(0, std::ios::end);
  const std::streamoff size = stream.tellg();
  if (!stream) return Problem{"lost", "the file cannot be read", "", file.string(), ""};
  std::string tail(std::size_t(std::min(size, kTail)), '\0');
  stream.seekg(size - std::streamoff(tail.size()));
  stream.read(tail.data(), std::streamsize(tail.size()));
  while (!tail.empty() && (tail.back() == '\n' || tail.back() == '\r')) tail.pop_back();
  const auto start = tail.rfind('\n');
  if (start != std::string::npos) tail.erase(0, start + 1);
  return Result<std::string>(boost::system::in_place_value, std::move(tail));
}

struct News {
  std::filesystem::file_time_type changed;
  Result<std::string> line;
};

News news_of(const std::filesystem::path& file, std::filesystem::file_time_type known) {
  const auto none = [&](const char* code, const char* title, const std::string& detail) {
    return News{known, Problem{code, title, detail, file.string(), ""}};
  };
  std::error_code error;
  if (!std::filesystem::is_regular_file(file, error)) return none("lost", "the file is gone", "");
  const auto changed = std::filesystem::last_write_time(file, error);
  if (error) return none("lost", "the file is gone", error.message());
  if (changed == known) return none("silent", "the file has not changed", "");
  return {changed, last_line_of(file)};
}

}  // namespace

awaitable<Result<void>> FileDriver::open() {
  co_return Result<void>();
}

/// Aside, for a file may lie on a disk of another machine that hangs.
awaitable<Result<sensors::Decoded>> FileDriver::ask(std::chrono::milliseconds timeout) {
  // Named, for g++ 12 ends what is made within a co_await expression twice.
  const News hanging{changed_,
                     Problem{"silent", "the file does not answer", "", file_.string(), ""}};
  std::function<News()> look = [file = file_, known = changed_] { return news_of(file, known); };
  const News news = co_await run_aside(aside_, look, timeout, hanging);
  changed_ = news.changed;
  if (!news.line) co_return news.line.error();
  co_return decoder_.decode(*news.line);
}

}  // namespace takehold::daemon
