#include "tests/system/real_place.hpp"
#include "embedded/places.hpp"

#include <signal.h>

#include <fstream>
#include <stdexcept>
#include <thread>

namespace takehold::testing {

using namespace std::chrono_literals;
using nlohmann::json;

bool becomes_true(const std::function<bool()>& asked, std::chrono::seconds patience) {
  const auto deadline = std::chrono::steady_clock::now() + patience;
  while (!asked()) {
    if (std::chrono::steady_clock::now() >= deadline) return false;
    std::this_thread::sleep_for(50ms);
  }
  return true;
}

void RealPlace::write(const std::string& name, const std::string& text) const {
  std::ofstream(file(name)) << text;
}

std::string RealPlace::bytes(const std::string& path) const {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

std::vector<std::string> RealPlace::started(const std::string& program,
                                            const std::vector<std::string>& words) const {
  std::vector<std::string> all{"/usr/bin/env", "-i", "PATH=/usr/bin:/bin", "LC_ALL=C.UTF-8",
                               "TZ=UTC"};
  for (const char* name :
       {"HOME", "XDG_DATA_HOME", "XDG_CONFIG_HOME", "XDG_STATE_HOME", "XDG_RUNTIME_DIR"}) {
    all.push_back(std::string(name) + "=" + folder_.path(""));
  }
  all.push_back(std::string(TAKEHOLD_BIN_DIR) + "/" + program);
  all.insert(all.end(), words.begin(), words.end());
  return all;
}

Said RealPlace::ran(const std::string& program, const std::vector<std::string>& words,
                    const std::string& typed) const {
  write("typed.txt", typed);
  std::ofstream(file("errors.txt")).close();
  RunningProgram running(started(program, words), {file("typed.txt"), file("errors.txt")});
  Said said;
  said.out = running.rest();
  said.exit_code = running.exit_code(60s).value_or(-1);
  said.err = bytes(file("errors.txt"));
  return said;
}

Said RealPlace::told(std::vector<std::string> words, const std::string& typed) const {
  if (!now_.empty()) words.insert(words.begin(), {"--now", now_});
  return ran("takehold", words, typed);
}

json RealPlace::done(std::vector<std::string> words, const std::string& typed) const {
  words.emplace_back("--json");
  const Said said = told(std::move(words), typed);
  if (said.exit_code != 0) throw std::runtime_error("refused: " + said.err);
  return said.document();
}

std::string RealPlace::refused(std::vector<std::string> words) const {
  words.emplace_back("--json");
  const Said said = told(std::move(words));
  EXPECT_EQ(said.exit_code, 1) << said.out;
  return said.document()["error"]["code"];
}

void RealPlace::start_probe(int humidity_pct) {
  probe_ = std::make_unique<RunningProgram>(
      started("probe-sim", {"--text", file("left.tty"), "--every", "100ms", "--seed", "7",
                            "--set-humidity", std::to_string(humidity_pct)}));
  ASSERT_TRUE(becomes_true([&] { return std::filesystem::exists(file("left.tty")); }, 20s));
}

void RealPlace::start_daemon() {
  write("chamberd.toml", R"([[probe]]
name = "left"
kind = "serial"
device = ")" + file("left.tty") +
                             R"("
every = "200ms"
timeout = "1s"
text = { pattern = 'T=(?<temperature>[-0-9.]+) H=(?<humidity>[0-9.]+)' }
[warnings]
on_delay = "1s"
)");
  daemon_ =
      std::make_unique<RunningProgram>(started("chamberd", {"--settings", file("chamberd.toml")}),
                                       Streams{"/dev/null", file("daemon.err")});
  ASSERT_TRUE(becomes_true([&] { return daemon_says("/v1/status").is_object(); }, 30s))
      << bytes(file("daemon.err"));
}

void RealPlace::kill_daemon() {
  daemon_->signal(SIGKILL);
  ASSERT_EQ(daemon_->exit_code(10s), 128 + SIGKILL);
}

json RealPlace::daemon_says(const std::string& target) const {
  const auto text = output_of("curl -s --max-time 5 --unix-socket '" + daemon_socket() +
                              "' 'http://chamber" + target + "'");
  return json::parse(text, nullptr, false);
}

json RealPlace::occupant(const std::string& label) const {
  const auto answer = daemon_says("/v1/occupants");
  for (const auto& one : answer.at("occupants")) {
    if (one.at("label") == label) return one;
  }
  return nullptr;
}

std::string RealPlace::day_ago(int days) const {
  const auto today = std::chrono::floor<sensors::Days>(std::chrono::system_clock::now());
  return sensors::to_string(sensors::Day((today - sensors::Days(days)).time_since_epoch()));
}

std::string RealPlace::days_ago(int days, int hour) const {
  return day_ago(days) + (hour < 10 ? "T0" : "T") + std::to_string(hour) + ":00:00Z";
}

std::string small_sheet(const std::string& ready_on) {
  return "season = \"next\"\nready_on = " + ready_on + R"(
confidence = 0.90
time_zone = "UTC"
[[bench]]
name = "warm bench"
day_degc = 24
night_degc = 20
day_hours = 14
[[variety]]
name = "Quarry Pink"
role = "scion"
[[variety]]
name = "Ironfoot"
role = "rootstock"
species = "interspecific"
[[lot]]
label = "QP"
variety = "Quarry Pink"
year = 2026
seeds = 200
[[lot]]
label = "IF"
variety = "Ironfoot"
year = 2026
seeds = 200
[[pairing]]
scion = "Quarry Pink"
rootstock = "Ironfoot"
want = 6
)";
}

}  // namespace takehold::testing
