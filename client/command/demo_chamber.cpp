#include "client/command/demo_chamber.hpp"

#include <fmt/format.h>

#include <chrono>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>
#include <thread>

#include "client/command/text_file.hpp"

namespace takehold::client {

namespace {

namespace fs = std::filesystem;
using namespace std::chrono_literals;

constexpr auto kPatience = 20s;  // for a program that must end or answer
constexpr auto kStep = 20ms;

[[noreturn]] void stopped(const std::string& what, const fs::path& words) {
  throw sensors::Refused({"demo-stopped", what, "", words.string(), "its words are in that file"});
}

/// Waits until `is_done`; false when the patience ended or the reader pressed Ctrl-C.
bool wait_for(const std::function<bool()>& is_done, const std::function<bool()>& is_interrupted) {
  for (auto waited = 0ms; waited < kPatience; waited += kStep) {
    if (is_done()) return true;
    if (is_interrupted()) throw sensors::Refused({"interrupted", "interrupted", "", "", ""});
    std::this_thread::sleep_for(kStep);
  }
  return false;
}

void run_to_end(const std::string& name, std::vector<std::string> arguments, const fs::path& words,
                const std::function<bool()>& is_interrupted) {
  ChildProgram child(program_beside_us(name), std::move(arguments), words);
  if (!wait_for([&] { return !child.is_running(); }, is_interrupted) || child.stop() != 0) {
    stopped(name + " did not do what the demo asked", words);
  }
}

constexpr const char* kSettings = R"([chamber]
name = "healing chamber of Low Sallow"
[log]
file = "{0}.db"
[listen]
socket = "{0}.sock"
[[probe]]
name = "left"
place = "chamber"
kind = "serial"
device = "{1}/left.tty"
every = "1s"
text = {{ pattern = 'T=(?<temperature>[-0-9.]+) H=(?<humidity>[0-9.]+)' }}
)";

fs::path write_settings(const fs::path& folder, const std::string& name, const std::string& more) {
  const fs::path file = folder / (name + ".toml");
  std::ofstream(file) << fmt::format(kSettings, name, folder.string()) << more;
  return file;
}

std::string event_text(const nlohmann::json& event, const sensors::TimeZone& zone) {
  const auto at = sensors::parse_instant(event.at("at").get<std::string>()).value();
  return fmt::format("  {}  {:8} {}", zone.local_text(at), event.value("event", ""),
                     event.value("text", ""));
}

}  // namespace

void show_chamber_week(const fs::path& folder, const DemoBatch& batch,
                       const sensors::TimeZone& zone, const std::function<bool()>& is_interrupted,
                       Output& out) {
  const auto entered = sensors::to_string(batch.entered_at);
  const fs::path trace = folder / "week.csv";
  run_to_end("probe-sim",
             {"--trace", trace.string(), "--hours", "168", "--every", "60s", "--probes", "1",
              "--start", entered, "--set-temperature", "25", "--set-humidity", "97.5", "--fault",
              "dry@135000+5400", "--seed", "7"},
             folder / "probe-sim.txt", is_interrupted);
  const auto occupant = fmt::format(
      "[[occupant]]\nlabel = \"{}\"\nregime = \"steady\"\nentered_at = {}\n", batch.label, entered);
  const fs::path settings = write_settings(folder, "week", occupant);
  const fs::path events = folder / "week-events.jsonl";
  run_to_end("chamberd", {"--settings", settings.string(), "--replay", trace.string()}, events,
             is_interrupted);
  std::istringstream lines(read_text_file(events.string()));
  for (std::string line; std::getline(lines, line);) {
    if (line.starts_with('{')) out.line(event_text(nlohmann::json::parse(line), zone));
  }
}

LiveChamber::LiveChamber(const fs::path& folder, const std::function<bool()>& is_interrupted)
    : probe_(program_beside_us("probe-sim"),
             {"--text", (folder / "left.tty").string(), "--every", "1s", "--set-temperature", "25",
              "--set-humidity", "97.5", "--seed", "7"},
             folder / "probe-sim.txt"),
      daemon_(program_beside_us("chamberd"),
              {"--settings", write_settings(folder, "chamberd", "").string()},
              folder / "chamberd.txt") {
  const auto answers = [&] { return fs::exists(folder / "chamberd.sock"); };
  if (!wait_for(answers, is_interrupted) || !daemon_.is_running()) {
    stopped("chamberd does not answer", folder / "chamberd.txt");
  }
}

}  // namespace takehold::client
