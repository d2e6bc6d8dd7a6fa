// The program itself, on real pseudo-terminals and a real port, asked by other people's software:
// libmodbus, pymodbus and curl.
#include <fcntl.h>
#include <gtest/gtest.h>
#include <modbus/modbus.h>
#include <signal.h>
#include <unistd.h>

#include <cerrno>
#include <filesystem>
#include <fstream>
#include <memory>
#include <nlohmann/json.hpp>

#include "embedded/places.hpp"
#include "sensors/codec/line_decoder.hpp"
#include "sensors/codec/line_splitter.hpp"
#include "sensors/codec/trace_row.hpp"
#include "tests/support/running_program.hpp"

namespace takehold::sensors {
namespace {

using std::chrono::seconds;
using testing::output_of;
using testing::RunningProgram;
using testing::ScratchFolder;

const std::string kProgram = TAKEHOLD_BIN_DIR "/probe-sim";
constexpr auto kPatience = seconds(10);

std::vector<std::string> with(std::vector<std::string> arguments) {
  arguments.insert(arguments.begin(), kProgram);
  return arguments;
}

/// The lines heard on a terminal until there are `wanted` of them.
std::vector<std::string> hear(const std::string& device, std::size_t wanted) {
  const int fd = ::open(device.c_str(), O_RDWR | O_NOCTTY);
  EXPECT_GE(fd, 0) << device;
  LineSplitter splitter(kMaxTextLine);
  std::vector<std::string> lines;
  char bytes[64];
  while (lines.size() < wanted) {
    const auto n = ::read(fd, bytes, sizeof bytes);
    if (n <= 0) break;
    splitter.feed({bytes, std::size_t(n)});
    while (const auto line = splitter.next()) lines.push_back(line->value());
  }
  ::close(fd);
  return lines;
}

struct Peer {
  explicit Peer(const std::string& device)
      : bus(modbus_new_rtu(device.c_str(), 9600, 'N', 8, 1), &modbus_free) {
    modbus_set_slave(bus.get(), 17);
    modbus_set_response_timeout(bus.get(), 0, 300'000);
    connected = modbus_connect(bus.get()) == 0;
  }
  ~Peer() { modbus_close(bus.get()); }
  std::unique_ptr<modbus_t, void (*)(modbus_t*)> bus;
  bool connected = false;
};

TEST(ProbeSim, text_is_heard_and_read) {
  const ScratchFolder folder;
  const auto link = folder.path("left.tty");
  RunningProgram sim(with({"--text", "--link", link, "--every", "20ms", "--seed", "3"}));
  ASSERT_TRUE(sim.line_beginning("ready", kPatience));
  const auto lines = hear(link, 5);
  ASSERT_EQ(lines.size(), 5u);
  const PatternText pattern{"^T=(?<temperature>[-0-9.]+) H=(?<humidity>[0-9.]+)$"};
  const auto decoder = LineDecoder::make(pattern).value();
  for (const auto& line : lines) {
    const auto decoded = decoder.decode(line).value();
    EXPECT_NEAR(decoded.temperature->degc(), 25.0, 2.0);
    EXPECT_NEAR(decoded.humidity->pct(), 97.5, 4.0);
  }
}

TEST(ProbeSim, a_late_listener_hears_no_old_lines) {
  const ScratchFolder folder;
  const auto link = folder.path("left.tty");
  RunningProgram sim(with({"--text", link, "--every", "10ms", "--speed", "3000",
                           "--set-temperature", "30", "--fault", "cold@1000"}));
  ASSERT_TRUE(sim.line_beginning("ready", kPatience));
  ::usleep(4'000'000);  // some three hours in there, and the heater long cold
  const auto first = hear(link, 1);
  ASSERT_EQ(first.size(), 1u);
  EXPECT_LT(std::stod(first[0].substr(2)), 27.0) << first[0];
}

TEST(ProbeSim, libmodbus_reads_its_registers_and_its_refusals) {
  const ScratchFolder folder;
  const auto link = folder.path("bus.tty");
  RunningProgram sim(with({"--modbus", "--unit", "17", "--link", link}));
  ASSERT_TRUE(sim.line_beginning("ready", kPatience));
  for (int times = 0; times < 2; ++times) {  // unplugged and plugged in again
    const Peer peer(link);
    ASSERT_TRUE(peer.connected);
    std::uint16_t registers[10] = {};
    ASSERT_EQ(modbus_read_input_registers(peer.bus.get(), 1, 2, registers), 2);
    EXPECT_NEAR(registers[0], 250, 20);
    EXPECT_NEAR(registers[1], 975, 40);
    ASSERT_EQ(modbus_read_registers(peer.bus.get(), 2, 1, registers), 1);
    EXPECT_NEAR(registers[0], 975, 40);
    EXPECT_EQ(modbus_read_input_registers(peer.bus.get(), 1, 10, registers), -1);
    EXPECT_EQ(errno, EMBXILADD);
    EXPECT_EQ(modbus_write_register(peer.bus.get(), 1, 0), -1);
    EXPECT_EQ(errno, EMBXILFUN);
    modbus_set_slave(peer.bus.get(), 18);
    EXPECT_EQ(modbus_read_input_registers(peer.bus.get(), 1, 2, registers), -1);
    EXPECT_EQ(errno, ETIMEDOUT);
  }
}

TEST(ProbeSim, pymodbus_reads_its_registers) {
  const ScratchFolder folder;
  const auto link = folder.path("bus.tty");
  RunningProgram sim(with({"--modbus", link, "--set-temperature", "31.5"}));
  ASSERT_TRUE(sim.line_beginning("ready", kPatience));
  const auto said = output_of(
      "/usr/bin/python3 -c \"from pymodbus.client import ModbusSerialClient as C\n"
      "c = C(port='" +
      link +
      "', baudrate=9600, timeout=2)\n"
      "c.connect(); print(*c.read_input_registers(1, 2, slave=1).registers)\"");
  int degc = 0, pct = 0;
  ASSERT_EQ(std::sscanf(said.c_str(), "%d %d", &degc, &pct), 2) << said;
  EXPECT_NEAR(degc, 315, 20);
  EXPECT_NEAR(pct, 975, 40);
}

TEST(ProbeSim, all_its_ports_are_in_one_chamber) {
  const ScratchFolder folder;
  const auto text = folder.path("left.tty"), bus = folder.path("right.tty");
  RunningProgram sim(with({"--text", text, "--modbus", bus, "--unit", "17", "--http", "0",
                           "--every", "20ms", "--set-temperature", "33"}));
  const auto told = sim.line_beginning("probe 3: json on ", kPatience);
  ASSERT_TRUE(told);
  ASSERT_TRUE(sim.line_beginning("ready", kPatience));
  const auto url = told->substr(told->find("http://"));
  const auto json = nlohmann::json::parse(output_of("curl -s --max-time 5 " + url));
  const double by_http = json.at("temperature_degc");
  const double by_text = std::stod(hear(text, 1).at(0).substr(2));
  const Peer peer(bus);
  std::uint16_t registers[2] = {};
  ASSERT_EQ(modbus_read_input_registers(peer.bus.get(), 1, 2, registers), 2);
  EXPECT_NEAR(by_http, 33.0, 1.5);
  EXPECT_NEAR(by_text, by_http, 1.5);
  EXPECT_NEAR(registers[0] / 10.0, by_http, 1.5);
}

TEST(ProbeSim, a_silent_probe_says_nothing_on_any_wire) {
  const ScratchFolder folder;
  const auto bus = folder.path("bus.tty");
  RunningProgram sim(with({"--modbus", bus, "--unit", "17", "--http", "0", "--fault", "silent@0:1",
                           "--fault", "silent@0:2", "--speed", "1000"}));
  const auto told = sim.line_beginning("probe 2: json on ", kPatience);
  ASSERT_TRUE(told);
  const Peer peer(bus);
  std::uint16_t registers[2] = {};
  EXPECT_EQ(modbus_read_input_registers(peer.bus.get(), 1, 2, registers), -1);
  EXPECT_EQ(errno, ETIMEDOUT);
  // curl: 52, an empty answer.
  EXPECT_EQ(output_of("curl -s --max-time 5 " + told->substr(told->find("http://")) + "; echo $?"),
            "52\n");
}

TEST(ProbeSim, stopped_it_takes_its_links_away) {
  for (const int number : {SIGTERM, SIGINT}) {
    const ScratchFolder folder;
    const auto link = folder.path("left.tty");
    RunningProgram sim(with({"--text", link}));
    ASSERT_TRUE(sim.line_beginning("ready", kPatience));
    EXPECT_TRUE(std::filesystem::is_symlink(link));
    sim.signal(number);
    EXPECT_EQ(sim.exit_code(kPatience), 0);
    EXPECT_FALSE(std::filesystem::is_symlink(link));
  }
}

TEST(ProbeSim, a_dead_runs_link_is_replaced_and_a_file_is_not) {
  const ScratchFolder folder;
  const auto link = folder.path("left.tty");
  std::filesystem::create_symlink("/dev/pts/99999", link);
  RunningProgram sim(with({"--text", link, "--every", "20ms"}));
  ASSERT_TRUE(sim.line_beginning("ready", kPatience));
  EXPECT_EQ(hear(link, 1).size(), 1u);

  const auto file = folder.path("kept");
  std::ofstream(file) << "mine\n";
  RunningProgram refused(with({"--text", file}));
  EXPECT_EQ(refused.exit_code(kPatience), 1);
  EXPECT_TRUE(std::filesystem::is_regular_file(file));
}

TEST(ProbeSim, a_trace_is_whole_and_repeats) {
  const ScratchFolder folder;
  const auto write = [&](const std::string& name, const std::string& seed) {
    RunningProgram sim(with({"--trace", folder.path(name), "--hours", "2", "--probes", "2",
                             "--start", "2027-04-12T06:00:00Z", "--seed", seed, "--fault",
                             "dry@3600", "--fault", "silent@600+60:2"}));
    EXPECT_EQ(sim.exit_code(kPatience), 0);
    return output_of("cat " + folder.path(name));
  };
  const auto text = write("a.csv", "5");
  EXPECT_EQ(text, write("b.csv", "5"));
  EXPECT_NE(text, write("c.csv", "6"));

  std::istringstream rows(text);
  std::string row;
  std::getline(rows, row);
  EXPECT_EQ(row, kTraceHead);
  int count = 0, missing = 0;
  Reading last;
  while (std::getline(rows, row)) {
    last = parse_trace_row(row).value();
    missing += last.quality == Quality::none;
    EXPECT_EQ(last.probe, count % 2 == 0 ? "left" : "right");
    ++count;
  }
  EXPECT_EQ(count, 2 * 720);
  EXPECT_EQ(missing, 6);
  EXPECT_EQ(to_string(last.at), "2027-04-12T07:59:50Z");
  EXPECT_LT(last.humidity->pct(), 92.0);
}

TEST(ProbeSim, wrong_usage_is_2_and_a_refusal_is_1) {
  const auto code = [](std::vector<std::string> arguments) {
    return RunningProgram(with(std::move(arguments))).exit_code(kPatience);
  };
  EXPECT_EQ(code({}), 2);
  EXPECT_EQ(code({"--text"}), 2);
  EXPECT_EQ(code({"--modbus", "x", "--unit", "300"}), 2);
  EXPECT_EQ(code({"--trace", "-", "--fault", "flood@1"}), 1);
  EXPECT_EQ(code({"--trace", "-", "--start", "2027-02-30T00:00:00Z"}), 1);
  EXPECT_EQ(code({"--help"}), 0);
  EXPECT_EQ(code({"--version"}), 0);
}

}  // namespace
}  // namespace takehold::sensors
