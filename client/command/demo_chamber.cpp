#include "client/command/demo_chamber.hpp"

#include <fmt/format.h>

#include <chrono>
#include <nlohmann/json.hpp>
#include <sstream>
#include <thread>

#include "client/command/text_file.hpp"
#include "client/link/link.hpp"
#include "client/terminal/chart.hpp"
#include "client/terminal/days.hpp"
#include "sensors/codec/trace_row.hpp"

namespace takehold::client {

namespace {

namespace fs = std::filesystem;
using namespace std::chrono_literals;
using IsInterrupted = std::function<bool()>;

constexpr auto kPatience = 120s;  // for a program that must end or answer, on a small machine too
constexpr auto kStep = 20ms;

[[noreturn]] void stopped(const std::string& what, const fs::path& words) {
  throw sensors::Refused({"demo-stopped", what, "", words.string(), "its words are in that file"});
}

/// Waits until `is_done`; false when the patience ended.
bool wait_for(const std::function<bool()>& is_done, const IsInterrupted& is_interrupted) {
  const auto end = std::chrono::steady_clock::now() + kPatience;
  while (std::chrono::steady_clock::now() < end) {
    if (is_done()) return true;
    if (is_interrupted()) {
      throw sensors::Refused({"interrupted", "the demo was interrupted", "", "", ""});
    }
    std::this_thread::sleep_for(kStep);
  }
  return false;
}

void run_to_end(const std::string& name, std::vector<std::string> arguments, const fs::path& words,
                const IsInterrupted& is_interrupted) {
  ChildProgram child(program_beside_us(name), std::move(arguments), words);
  if (!wait_for([&] { return !child.is_running(); }, is_interrupted) || child.stop() != 0) {
    stopped(name + " did not do what the demo asked", words);
  }
}

/// A text as a TOML string: TOML's basic strings understand what JSON writes.
std::string quoted(const std::string& text) {
  return nlohmann::json(text).dump();
}

constexpr int kClosedHours = 72;
constexpr int kRowsAnHour = 120;
constexpr const char* kEvery = "30s";
// The second night, for an hour and a half, in seconds from the graft.
constexpr const char* kDryNight = "dry@135000+5400";
// From the fourth day on the chamber is opened, down the middle of what the healing plan "steady"
// allows there.
constexpr const char* kOpening = "73@259200+345600";

void show_event(const nlohmann::json& event, const sensors::TimeZone& zone, Output& out) {
  const auto at = sensors::parse_instant(event.at("at").get<std::string>()).value();
  const std::string kind = event.value("event", "");
  const Ink ink = kind == "warning" ? Ink::bad : kind == "cleared" ? Ink::good : Ink::plain;
  const auto& cause = event.at("cause");
  const bool known = kind == "warning" && cause.is_string() && cause != "unknown";
  out.line(inked(
      fmt::format("{}  {:7}  {}{}", shown(at, zone, out.style().dates), kind,
                  event.value("text", ""), known ? "; cause: " + cause.get<std::string>() : ""),
      ink, out.style()));
}

void show_events(const fs::path& events, const sensors::TimeZone& zone, Output& out) {
  constexpr int kScreenful = 14;
  int shown = 0, left_out = 0;
  std::istringstream lines(read_text_file(events.string()));
  for (std::string line; std::getline(lines, line);) {
    if (!line.starts_with('{')) continue;
    if (shown == kScreenful) {
      ++left_out;
      continue;
    }
    show_event(nlohmann::json::parse(line), zone, out);
    ++shown;
  }
  if (left_out > 0) out.line(fmt::format("and {} more, in {}", left_out, events.string()));
}

/// The closed days' humidity, as a small chart with the band it should have kept.
void show_closed_days(const fs::path& table, Output& out) {
  std::vector<std::optional<double>> humidity;
  std::istringstream lines(read_text_file(table.string()));
  for (std::string line; std::getline(lines, line);) {
    if (humidity.size() == static_cast<std::size_t>(kClosedHours * kRowsAnHour)) break;
    const auto row = sensors::parse_trace_row(line);
    if (!row) continue;  // the head
    humidity.push_back(row->humidity ? std::optional(row->humidity->pct()) : std::nullopt);
  }
  ChartOptions options;
  options.width = 60;
  options.height = 11;  // a row for each percent
  options.band_low = 95.0;
  options.band_high = 100.0;
  options.left_end = "humidity in %: the graft";
  options.right_end = "three days later";
  out.text(chart_text(humidity, options, out.style()) + "\n");
}

}  // namespace

fs::path DemoFiles::write_settings(const std::string& name, const std::string& every,
                                   const std::string& more) const {
  const std::string text = fmt::format(R"([chamber]
name = "healing chamber of Low Sallow"
[log]
file = {}
[listen]
socket = {}
[[probe]]
name = "left"
place = "chamber"
kind = "serial"
device = {}
every = "{}"
text = {{ pattern = 'T=(?<temperature>[-0-9.]+) H=(?<humidity>[0-9.]+)' }}
{})",
                                       quoted(at("chamber.db")), quoted(at("chamberd.sock")),
                                       quoted(at("left.tty")), every, more);
  write_text_file(at(name).string(), text);
  return at(name);
}

fs::path DemoFiles::write_client_settings() const {
  write_text_file(at("takehold.toml").string(),
                  "book = \"book.db\"\ndaemon = " + quoted(daemon_address()) + "\n");
  return at("takehold.toml");
}

fs::path DemoFiles::write_again() const {
  const auto shell_word = [](std::string text) {
    for (auto i = text.find('\''); i != std::string::npos; i = text.find('\'', i + 4)) {
      text.replace(i, 1, R"('\'')");
    }
    return "'" + text + "'";
  };
  const std::string text = fmt::format(
      "#!/bin/sh\n"
      "# Starts the demo's chamber again, until Ctrl-C: a simulated probe, and chamberd reading "
      "it.\n"
      "{} --text {} --set-humidity 97.5 &\n"
      "trap \"kill $!\" EXIT\n"
      "{} --settings {}\n",
      shell_word(program_beside_us("probe-sim")), shell_word(at("left.tty")),
      shell_word(program_beside_us("chamberd")), shell_word(at("chamberd.toml")));
  write_text_file(at("chamber.sh").string(), text);
  return at("chamber.sh");
}

void show_chamber_week(const DemoFiles& files, const DemoBatch& batch,
                       const sensors::TimeZone& zone, const IsInterrupted& is_interrupted,
                       Output& out) {
  const fs::path table = files.at("week.csv");
  run_to_end("probe-sim",
             {"--trace",
              table.string(),
              "--probes",
              "1",
              "--hours",
              "168",
              "--every",
              kEvery,
              "--start",
              sensors::to_string(batch.entered_at),
              "--set-temperature",
              "25",
              "--set-humidity",
              "97.5",
              "--opening",
              kOpening,
              "--fault",
              kDryNight,
              "--seed",
              "7"},
             files.at("probe-sim.txt"), is_interrupted);
  const auto occupant =
      fmt::format("[[occupant]]\nlabel = \"{}\"\nregime = \"steady\"\nentered_at = {}\n",
                  batch.label, sensors::to_string(batch.entered_at));
  const fs::path settings = files.write_settings("week.toml", kEvery, occupant);
  const fs::path events = files.at("week.jsonl");
  run_to_end("chamberd",
             {"--settings", settings.string(), "--replay", table.string(), "--keep",
              files.at("chamber.db").string()},
             events, is_interrupted);
  show_closed_days(table, out);
  show_events(events, zone, out);
}

LiveChamber::LiveChamber(const DemoFiles& files, const IsInterrupted& is_interrupted)
    : probe_(program_beside_us("probe-sim"),
             {"--text", files.at("left.tty").string(), "--every", "1s", "--set-temperature", "25",
              "--set-humidity", "97.5", "--seed", "7"},
             files.at("probe-sim.txt")),
      daemon_(program_beside_us("chamberd"),
              {"--settings", files.write_settings("chamberd.toml", "1s", "").string()},
              files.at("chamberd.txt")) {
  const Link link({daemon::Endpoint::parse(files.daemon_address()).value()});
  const auto has_air = [&] {
    if (!daemon_.is_running()) stopped("chamberd ended", files.at("chamberd.txt"));
    const auto status = link.status();
    return status && status->contains("air") && !status->at("air").at("at").is_null();
  };
  if (!wait_for(has_air, is_interrupted)) {
    stopped("chamberd does not hear the probe", files.at("chamberd.txt"));
  }
}

}  // namespace takehold::client
