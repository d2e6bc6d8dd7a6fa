// A pseudo-terminal under a name of one's own: what a serial port is to the program that opens it.
#pragma once

#include <filesystem>
#include <string>

#include "sensors/quantity/problem.hpp"

namespace takehold::sensors {

/// Owns the master side and a symbolic link to the slave; both go with the object. The slave is set
/// raw, as a serial line carries bytes.
class PseudoTerminal {
 public:
  /// Replaces a link left over by another run. Throws Refused: "link-taken" when something other
  /// than a link stands there, "no-terminal" when the system gives none.
  explicit PseudoTerminal(const std::string& link);
  ~PseudoTerminal();
  PseudoTerminal(const PseudoTerminal&) = delete;
  PseudoTerminal& operator=(const PseudoTerminal&) = delete;

  /// The master side, non-blocking; stays owned here.
  int master() const { return master_; }
  const std::string& slave() const { return slave_; }
  /// Whether any program has the slave side open.
  bool is_listened_to() const;

 private:
  void make_link();

  std::filesystem::path link_;
  int master_ = -1;
  std::string slave_;
};

}  // namespace takehold::sensors
