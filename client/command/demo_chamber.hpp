// The demo's chamber: probe-sim and chamberd, both real, both children of ours.
#pragma once

#include <filesystem>
#include <functional>

#include "client/command/child_program.hpp"
#include "client/command/output.hpp"
#include "sensors/quantity/time_zone.hpp"

namespace takehold::client {

/// A batch that stands in the demo's chamber.
struct DemoBatch {
  std::string label;
  sensors::Instant entered_at;
};

/// The demo's files, all in its folder. One log: the week's readings, then the live ones.
class DemoFiles {
 public:
  explicit DemoFiles(std::filesystem::path folder) : folder_(std::move(folder)) {}

  std::filesystem::path at(const std::string& name) const { return folder_ / name; }
  std::string daemon_address() const { return "unix:" + at("chamberd.sock").string(); }
  /// chamberd's settings with the probe asked at this pace, and `more` behind; returns the file.
  std::filesystem::path write_settings(const std::string& name, const std::string& every,
                                       const std::string& more) const;
  /// takehold.toml: the book and the daemon of this folder; returns the file.
  std::filesystem::path write_client_settings() const;
  /// A shell script that starts the two programs again, until Ctrl-C.
  std::filesystem::path write_again() const;

 private:
  std::filesystem::path folder_;
};

/// A week told fast: probe-sim writes it as a table, the humidifier dry in the second night and the
/// chamber opened little by little from the fourth day on; chamberd reads that through the same
/// path as live readings, by the table's own clock, and what it reports is shown. Leaves the log.
/// Refuses "demo-stopped" when either program fails.
void show_chamber_week(const DemoFiles& files, const DemoBatch& batch,
                       const sensors::TimeZone& zone, const std::function<bool()>& is_interrupted,
                       Output& out);

/// Live: probe-sim on a pseudo-terminal, chamberd reading it and going on with the log. Both stop
/// when the object goes.
class LiveChamber {
 public:
  /// Returns when chamberd has logged a reading. Refuses "demo-stopped" when that takes too long.
  LiveChamber(const DemoFiles& files, const std::function<bool()>& is_interrupted);

 private:
  ChildProgram probe_;
  ChildProgram daemon_;
};

}  // namespace takehold::client
