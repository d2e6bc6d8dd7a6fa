// Starts peer.py, and ends it with the test.
#pragma once

#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <sys/wait.h>
#include <unistd.h>

#include <stdexcept>
#include <string>
#include <vector>

#include "embedded/places.hpp"

namespace takehold::daemon {

class Peer {
 public:
  explicit Peer(std::vector<std::string> words) {
    words.insert(words.begin(), {"python3", TAKEHOLD_SOURCE_DIR "/tests/daemon/http/peer.py"});
    int ends[2];
    if (pipe2(ends, O_CLOEXEC) != 0) throw std::runtime_error("no pipe");
    child_ = fork();
    if (child_ == 0) {
      dup2(ends[1], STDOUT_FILENO);
      std::vector<char*> arguments;
      for (auto& word : words) arguments.push_back(word.data());
      arguments.push_back(nullptr);
      execvp("python3", arguments.data());
      _exit(127);
    }
    close(ends[1]);
    char c = 0;
    while (read(ends[0], &c, 1) == 1 && c != '\n') line_ += c;
    close(ends[0]);
    if (line_.empty()) throw std::runtime_error("the peer does not start");
  }
  ~Peer() {
    kill(child_, SIGKILL);
    waitpid(child_, nullptr, 0);
  }
  Peer(const Peer&) = delete;
  Peer& operator=(const Peer&) = delete;

  const std::string& line() const { return line_; }  ///< its port, or "ready"

 private:
  pid_t child_ = -1;
  std::string line_;
};

}  // namespace takehold::daemon
