// A real program, run beside the test and ended with it.
#pragma once

#include <sys/types.h>

#include <chrono>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace takehold::testing {

/// Files in place of two of a program's streams; empty: those of the test itself.
struct Streams {
  std::string input{};
  std::string errors{};
};

/// Started by the constructor with its standard output read here and its errors passed through; if
/// it still runs at the end it is asked to stop (SIGTERM), then killed. One thread only.
class RunningProgram {
 public:
  /// `arguments[0]` is the program's path.
  explicit RunningProgram(const std::vector<std::string>& arguments, const Streams& streams = {});
  ~RunningProgram();
  RunningProgram(const RunningProgram&) = delete;
  RunningProgram& operator=(const RunningProgram&) = delete;

  /// The next whole line that begins so; earlier ones are passed over. None: it did not come in
  /// time or the program ended.
  std::optional<std::string> line_beginning(const std::string& beginning,
                                            std::chrono::milliseconds patience);

  /// Everything it prints from here on, to the end of its output.
  std::string rest();

  void signal(int number) const;
  /// Its exit code, or 128 + the signal that ended it. None: it still runs.
  std::optional<int> exit_code(std::chrono::milliseconds patience);

  pid_t pid() const { return pid_; }

 private:
  std::optional<std::string> take_line();
  bool read_more();

  pid_t pid_ = -1;
  int output_ = -1;
  std::string held_;
  std::optional<int> ended_;
};

/// A folder of its own under the system's temporary one; gone with the object.
class ScratchFolder {
 public:
  ScratchFolder();
  ~ScratchFolder();
  ScratchFolder(const ScratchFolder&) = delete;
  ScratchFolder& operator=(const ScratchFolder&) = delete;

  std::string path(const std::string& name) const { return (folder_ / name).string(); }

 private:
  std::filesystem::path folder_;
};

/// What a shell command prints.
std::string output_of(const std::string& command);

/// The same of a command that must succeed: std::runtime_error names it if it does not.
std::string answer_of(const std::string& command);

}  // namespace takehold::testing
