// A program of ours run as a child: found beside our own binary, stopped with us.
//
// Owned by whoever made it; the destructor stops the child and waits for it. Should this process
// be killed outright, the kernel stops the child too. Not to be shared between threads.
#pragma once

#include <sys/types.h>

#include <chrono>
#include <filesystem>
#include <string>
#include <vector>

namespace takehold::client {

/// Where `name` stands beside the running program. Refuses with code "program-not-found".
std::filesystem::path program_beside_us(const std::string& name);

class ChildProgram {
 public:
  /// Starts `program`; what it prints goes to `output` (appended). Refuses with code
  /// "program-not-started".
  ChildProgram(const std::filesystem::path& program, std::vector<std::string> arguments,
               const std::filesystem::path& output);
  ~ChildProgram();
  ChildProgram(const ChildProgram&) = delete;
  ChildProgram& operator=(const ChildProgram&) = delete;

  pid_t id() const { return id_; }
  /// Looks without waiting.
  bool is_running();
  /// Asks it to end (SIGTERM), waits up to `patience`, then ends it. Harmless when it has ended.
  /// Returns its exit code, or -1 when it had to be ended or was ended by a signal.
  int stop(std::chrono::milliseconds patience = std::chrono::seconds(5));

 private:
  void collect(int options);

  pid_t id_ = -1;
  bool ended_ = false;
  int exit_code_ = -1;
};

}  // namespace takehold::client
