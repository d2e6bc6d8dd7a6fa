#include "sensors/sim/probe_sim/trace_file.hpp"

#include <fstream>
#include <iostream>

#include "sensors/codec/trace_row.hpp"

namespace takehold::sensors {
namespace {

std::string name_of(int probe) {
  if (probe == 0) return "left";
  return probe == 1 ? "right" : "probe-" + std::to_string(probe + 1);
}

void write_rows(std::ostream& out, const TraceOptions& options, const SceneSettings& settings) {
  Scene scene(settings);
  out << kTraceHead << '\n';
  const Instant end = settings.start + options.length;
  for (Instant at = settings.start; at < end && out; at += options.every) {
    scene.advance_to(at);
    for (int probe = 0; probe < scene.probes(); ++probe) {
      const auto says = scene.says(probe).value_or(Decoded{});
      out << format_trace_row({name_of(probe), at, says.temperature, says.humidity, Quality::good})
          << '\n';
    }
  }
  out.flush();
}

}  // namespace

void write_trace(const TraceOptions& options, const SceneSettings& settings) {
  if (options.file == "-") {
    write_rows(std::cout, options, settings);
    return;
  }
  std::ofstream file(options.file, std::ios::trunc);
  write_rows(file, options, settings);
  if (!file) throw Refused({"cannot-write", "the trace cannot be written", "", options.file, ""});
}

}  // namespace takehold::sensors
