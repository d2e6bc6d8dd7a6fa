// A grower's machine in a folder of its own: the real programs, a real probe's wire, a real socket.
#pragma once

#include <gtest/gtest.h>

#include <chrono>
#include <functional>
#include <memory>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "sensors/quantity/calendar.hpp"
#include "tests/support/running_program.hpp"

namespace takehold::testing {

/// What a program said, to its end.
struct Said {
  int exit_code = -1;  ///< 128 + signal when a signal ended it
  std::string out, err;
  nlohmann::json document() const { return nlohmann::json::parse(out); }
};

/// Asks again and again until it is so; false if it did not come true in time.
bool becomes_true(const std::function<bool()>& asked, std::chrono::seconds patience);

/// HOME and the XDG folders are the place's own, and no variable of the tester's reaches a program.
class RealPlace : public ::testing::Test {
 protected:
  std::string file(const std::string& name) const { return folder_.path(name); }
  std::string book() const { return file("takehold/book.db"); }
  void write(const std::string& name, const std::string& text) const;
  std::string bytes(const std::string& path) const;

  /// The words that start a built program here: `env` and its variables, then the program's path.
  std::vector<std::string> started(const std::string& program,
                                   const std::vector<std::string>& words) const;
  /// Runs a built program to its end; `typed` is its standard input.
  Said ran(const std::string& program, const std::vector<std::string>& words,
           const std::string& typed = "") const;
  /// takehold with --now (none: the clock's).
  Said told(std::vector<std::string> words, const std::string& typed = "") const;
  /// Its JSON; the test fails where it was refused.
  nlohmann::json done(std::vector<std::string> words, const std::string& typed = "") const;
  /// The code of its refusal, with exit 1.
  std::string refused(std::vector<std::string> words) const;

  /// A simulated chamber on a pseudo-terminal whose humidifier holds so many %.
  void start_probe(int humidity_pct);
  /// chamberd on that probe, answering when this returns.
  void start_daemon();
  void kill_daemon();
  /// A GET answered by the daemon, asked by curl.
  nlohmann::json daemon_says(const std::string& target) const;
  /// As the daemon knows it; null where it knows none.
  nlohmann::json occupant(const std::string& label) const;

  /// An hour of the day so many days before the present one, in UTC, as --now takes it.
  std::string days_ago(int days, int hour = 9) const;
  std::string day_ago(int days) const;

  ScratchFolder folder_;
  std::string now_;  ///< of `told`; empty: the clock's
  std::unique_ptr<RunningProgram> probe_, daemon_;

 private:
  std::string daemon_socket() const { return file("takehold/chamberd.sock"); }
};

/// The sheet of a small season: one pairing, one bench, ready on that day.
std::string small_sheet(const std::string& ready_on);

}  // namespace takehold::testing
