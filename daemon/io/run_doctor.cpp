#include <fmt/format.h>
#include <sys/timex.h>
#include <unistd.h>

#include <nlohmann/json.hpp>
#include <ostream>

#include "daemon/io/gate.hpp"
#include "daemon/io/messages.hpp"
#include "daemon/io/poller.hpp"
#include "daemon/io/run.hpp"
#include "daemon/io/socket_file.hpp"
#include "daemon/log/log_reader.hpp"

namespace takehold::daemon {

using sensors::Quality;
using namespace std::chrono_literals;
namespace fs = std::filesystem;

namespace {

/// Says each finding on a line of its own, and remembers whether one was bad.
class Findings {
 public:
  explicit Findings(std::ostream& out) : out_(out) {}

  void good(const std::string& about, const std::string& text) { say("well", about, text); }
  void note(const std::string& about, const std::string& text) { say("note", about, text); }
  void bad(const std::string& about, const std::string& text) {
    say("BAD ", about, text);
    any_bad_ = true;
  }
  bool any_bad() const { return any_bad_; }

 private:
  void say(const char* mark, const std::string& about, const std::string& text) {
    out_ << fmt::format("{}  {}: {}\n", mark, about, text);
  }
  std::ostream& out_;
  bool any_bad_ = false;
};

void look_at_device(const ProbeSettings& probe, Findings& findings) {
  const auto* serial = std::get_if<SerialSource>(&probe.source);
  if (serial == nullptr) return;
  const auto& device = serial->device;
  if (!fs::exists(device)) {
    findings.bad(probe.name, device + " is not there: is it plugged in?");
  } else if (::access(device.c_str(), R_OK | W_OK) != 0) {
    findings.bad(probe.name, device + " may not be opened by this user: join the group dialout");
  }
}

void look_at_probes(const Settings& settings, bool running, Findings& findings) {
  for (const auto& probe : settings.probes) look_at_device(probe, findings);
  if (settings.probes.empty()) findings.note("probes", "the settings name none");
  if (running) {
    findings.note("probes", "chamberd is asking them itself; see takehold chamber");
    return;
  }
  for (const auto& result : poll_once(settings)) {
    const auto& reading = result.reading;
    if (reading.quality == Quality::good) {
      findings.good(reading.probe, json_text(reading_message(result)));
    } else {
      findings.bad(reading.probe, result.error.empty() ? "nothing usable" : result.error);
    }
  }
}

void look_at_disk(const Settings& settings, Findings& findings) {
  const auto folder = settings.log_file.parent_path();
  std::error_code error;
  const auto room = fs::space(folder, error);
  if (error) {
    findings.bad("disk", folder.string() + ": " + error.message());
    return;
  }
  if (::access(folder.c_str(), W_OK) != 0) {
    findings.bad("disk", folder.string() + " may not be written by this user");
  }
  // What a year of these probes takes at 33 bytes a reading, rollups included.
  double bytes = 0;
  for (const auto& probe : settings.probes) {
    bytes += 33.0 * settings.keep_days * 86400.0 * 1000.0 / double(probe.every.count());
  }
  const auto text =
      fmt::format("{:.1f} GB free in {}; {} days of these probes take {:.1f} GB",
                  double(room.available) / 1e9, folder.string(), settings.keep_days, bytes / 1e9);
  if (double(room.available) < bytes) {
    findings.bad("disk", text);
  } else {
    findings.good("disk", text);
  }
}

void look_at_log(const Settings& settings, Findings& findings) {
  if (!fs::exists(settings.log_file)) {
    findings.note("log", settings.log_file.string() + " will be made");
    return;
  }
  try {
    const auto verdict = check_log(settings.log_file);
    if (verdict == "ok") {
      findings.good("log", settings.log_file.string() + " is whole");
    } else {
      findings.bad("log", verdict + ": keep it as it is and restore a backup beside it");
    }
  } catch (const std::exception& failed) {
    findings.bad("log", failed.what());
  }
}

void look_at_clock(Findings& findings) {
  timex state{};
  const int code = ::adjtimex(&state);
  if (code == TIME_ERROR || (state.status & STA_UNSYNC) != 0) {
    findings.note("clock", "it is " + sensors::to_string(wall_clock()) +
                               " and nothing keeps it right: let a time service run");
  } else {
    findings.good("clock",
                  "it is " + sensors::to_string(wall_clock()) + ", kept by a time service");
  }
}

void look_at_tokens(const Settings& settings, Findings& findings) {
  if (!settings.tcp) return;
  try {
    const auto tokens = load_tokens(settings.tcp->token_file.string());
    findings.good("tokens",
                  fmt::format("{} in {}", tokens.size(), settings.tcp->token_file.string()));
  } catch (const std::exception& failed) {
    findings.bad("tokens", failed.what());
  }
}

}  // namespace

int run_doctor(const Settings& settings, std::ostream& out) {
  Findings findings(out);
  findings.good("settings", settings.file.string());
  const bool running = somebody_answers(settings.socket);
  if (running) {
    findings.good("chamberd", "runs, and answers on " + settings.socket.string());
  } else {
    findings.note("chamberd", "does not run, or not with these settings");
  }
  look_at_tokens(settings, findings);
  look_at_probes(settings, running, findings);
  look_at_disk(settings, findings);
  look_at_log(settings, findings);
  look_at_clock(findings);
  return findings.any_bad() ? 1 : 0;
}

}  // namespace takehold::daemon
