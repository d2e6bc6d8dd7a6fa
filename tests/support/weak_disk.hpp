// A disk that fails when a test wants it to: a layer between SQLite and the real file system.
//
// Everything goes to real files; on demand writes or syncs are refused, and a power cut takes back
// what was written and never synced. After a cut each unsynced write is there, gone or torn by
// chance (sectors of 512 bytes), for that is what disks do.
#pragma once

#include <cstdint>
#include <string>

namespace takehold::testing {

class WeakDisk {
 public:
  enum class Fault { none, full, read_only, sync_fails };

  /// Every database opened while it lives goes through it. One at a time.
  WeakDisk();
  ~WeakDisk();
  WeakDisk(const WeakDisk&) = delete;
  WeakDisk& operator=(const WeakDisk&) = delete;

  void fail_with(Fault fault);
  /// Calls that were refused so far.
  int refused() const;

  /// From the next write or sync on, after `more` of them, nothing reaches the files any more and
  /// every call fails: the power is gone. Close the database, then call restore_power.
  void cut_power_after(int more);
  bool power_is_gone() const;
  /// Leaves of the unsynced writes what `seed` decides.
  void restore_power(std::uint64_t seed);
};

}  // namespace takehold::testing
