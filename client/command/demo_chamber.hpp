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

/// A week told fast: probe-sim writes it as a table (the humidifier runs dry in the second night),
/// chamberd reads that through the same path as live readings, by the table's own clock, and what
/// it reports is shown. Refuses "demo-stopped" when either program fails.
void show_chamber_week(const std::filesystem::path& folder, const DemoBatch& batch,
                       const sensors::TimeZone& zone, const std::function<bool()>& is_interrupted,
                       Output& out);

/// A few seconds live: probe-sim on a pseudo-terminal, chamberd logging it in `folder`, on the
/// socket chamberd.sock there. Both stop when the object goes.
class LiveChamber {
 public:
  /// Returns when chamberd answers on its socket. Refuses "demo-stopped" when it does not in time.
  LiveChamber(const std::filesystem::path& folder, const std::function<bool()>& is_interrupted);

 private:
  ChildProgram probe_;
  ChildProgram daemon_;
};

}  // namespace takehold::client
