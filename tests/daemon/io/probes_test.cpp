// Every kind of probe through the real chamberd, against peers that are not ours: pymodbus and
// libmodbus on pseudo-terminals made by socat, Python's http.server, files laid out as the kernel
// lays them out.
#include <gtest/gtest.h>
#include <modbus.h>
#include <sys/stat.h>

#include <fstream>
#include <map>
#include <memory>
#include <nlohmann/json.hpp>
#include <set>
#include <sstream>
#include <thread>

#include "embedded/places.hpp"
#include "tests/support/running_program.hpp"

namespace takehold::daemon {
namespace {

using namespace std::chrono_literals;
using nlohmann::json;
using testing::RunningProgram;
using testing::ScratchFolder;

constexpr auto kPatience = 20s;
const std::string kPeers = TAKEHOLD_SOURCE_DIR "/tests/daemon/io/";
const std::string kChamberd = TAKEHOLD_BIN_DIR "/chamberd";

/// Two ends of one line, as socat makes them.
struct Wire {
  explicit Wire(const ScratchFolder& folder)
      : ours(folder.path("ours.tty")),
        theirs(folder.path("theirs.tty")),
        socat({"/usr/bin/socat", "pty,raw,echo=0,link=" + ours, "pty,raw,echo=0,link=" + theirs}) {
    for (int i = 0; i < 200 && !std::filesystem::exists(theirs); ++i) {
      std::this_thread::sleep_for(50ms);
    }
  }
  std::string ours, theirs;
  RunningProgram socat;
};

RunningProgram python(const std::string& script, const std::vector<std::string>& words) {
  std::vector<std::string> all{"/usr/bin/python3", kPeers + script};
  all.insert(all.end(), words.begin(), words.end());
  return RunningProgram(all);
}

/// What `--once` tells, by probe.
std::map<std::string, json> once(const ScratchFolder& folder, const std::string& settings) {
  const auto file = folder.path("chamberd.toml");
  std::ofstream(file) << settings;
  RunningProgram program({kChamberd, "--settings", file, "--once"});
  std::map<std::string, json> told;
  std::istringstream lines(program.rest());
  for (std::string line; std::getline(lines, line);) {
    const auto reading = json::parse(line);
    told[reading.at("probe")] = reading;
  }
  return told;
}

std::string unit_settings(const std::string& device, int unit, const std::string& places) {
  return "[[probe]]\nname = \"" + std::to_string(unit) + "\"\nkind = \"serial\"\ndevice = \"" +
         device + "\"\nevery = \"1s\"\nmodbus = { unit = " + std::to_string(unit) + ", " + places +
         " }\n";
}

const std::string kTenths =
    "temperature = { address = 1, scale = 0.1, signed = true }, "
    "humidity = { address = 2, scale = 0.1 }";

TEST(Probes, units_of_pymodbus_on_one_line_are_read_each_in_its_way) {
  const ScratchFolder folder;
  const Wire wire(folder);
  auto peer = python("modbus_peer.py", {wire.theirs});
  ASSERT_TRUE(peer.line_beginning("ready", kPatience));
  std::this_thread::sleep_for(1s);  // it says so before it opens the line
  const auto told = once(
      folder, unit_settings(wire.ours, 1, kTenths) +
                  unit_settings(wire.ours, 2,
                                "temperature = { function = 3, address = 10, type = \"float32\", "
                                "words = \"low first\" }, humidity = { function = 3, address = 12, "
                                "type = \"float32\", words = \"low first\" }") +
                  unit_settings(wire.ours, 3,
                                "temperature = { address = 100, type = \"int32\", scale = 0.001 }, "
                                "co2 = { address = 102 }"));
  EXPECT_EQ(told.at("1").at("temperature_degc"), -5.0);
  EXPECT_EQ(told.at("1").at("humidity_pct"), 99.9);
  EXPECT_EQ(told.at("2").at("temperature_degc"), 24.25);
  EXPECT_EQ(told.at("2").at("humidity_pct"), 96.5);
  EXPECT_EQ(told.at("3").at("temperature_degc"), 25.125);
  EXPECT_EQ(told.at("3").at("co2_ppm"), 812);
  EXPECT_EQ(told.at("3").at("humidity_pct"), nullptr);
}

TEST(Probes, a_server_of_libmodbus_is_read_and_its_refusal_told) {
  const ScratchFolder folder;
  const Wire wire(folder);
  std::unique_ptr<modbus_t, void (*)(modbus_t*)> bus(
      modbus_new_rtu(wire.theirs.c_str(), 9600, 'N', 8, 1), &modbus_free);
  modbus_set_slave(bus.get(), 7);
  ASSERT_EQ(modbus_connect(bus.get()), 0);
  std::unique_ptr<modbus_mapping_t, void (*)(modbus_mapping_t*)> map(modbus_mapping_new(0, 0, 0, 4),
                                                                     &modbus_mapping_free);
  map->tab_input_registers[1] = 241;
  map->tab_input_registers[2] = 963;
  std::thread server([&] {
    std::uint8_t query[MODBUS_RTU_MAX_ADU_LENGTH];
    for (int answered = 0; answered < 2;) {
      const int size = modbus_receive(bus.get(), query);
      if (size < 0) return;
      if (size > 0) modbus_reply(bus.get(), query, size, map.get()), ++answered;
    }
  });
  const auto told = once(folder, unit_settings(wire.ours, 7, kTenths));
  EXPECT_EQ(told.at("7").at("temperature_degc"), 24.1);
  EXPECT_EQ(told.at("7").at("humidity_pct"), 96.3);
  const auto refused = once(folder, unit_settings(wire.ours, 7, "temperature = { address = 90 }"));
  EXPECT_NE(refused.at("7").at("error").get<std::string>().find("no such register"),
            std::string::npos)
      << refused.at("7");
  server.join();
}

TEST(Probes, requests_on_one_line_never_interleave_and_keep_silence_between) {
  const ScratchFolder folder;
  const Wire wire(folder);
  auto peer = python("line_peer.py", {wire.theirs, "watch"});
  ASSERT_TRUE(peer.line_beginning("ready", kPatience));
  std::string settings = "[log]\nfile = \"chamber.db\"\n[listen]\nsocket = \"c.sock\"\n";
  for (int unit = 1; unit <= 4; ++unit) settings += unit_settings(wire.ours, unit, kTenths);
  const auto file = folder.path("chamberd.toml");
  std::ofstream(file) << settings;
  {
    RunningProgram daemon({kChamberd, "--settings", file});
    for (int i = 0; i < 12; ++i) {
      const auto line = peer.line_beginning("", kPatience);
      ASSERT_TRUE(line);
      EXPECT_EQ(*line, "asked " + std::to_string(i % 4 + 1));
    }
  }
  const auto told = testing::output_of("sqlite3 " + folder.path("chamber.db") +
                                       " 'SELECT DISTINCT name, temperature_mdegc, humidity_mpct "
                                       "FROM reading JOIN probe ON probe.id = probe ORDER BY 1'");
  EXPECT_EQ(told, "1|21000|91000\n2|22000|92000\n3|23000|93000\n4|24000|94000\n");
}

TEST(Probes, a_late_answer_is_never_taken_for_another_units) {
  // Unit 1 answers after 500 ms, when nobody waits any more and unit 2 has been asked.
  const ScratchFolder folder;
  const Wire wire(folder);
  auto peer = python("line_peer.py", {wire.theirs, "late"});
  ASSERT_TRUE(peer.line_beginning("ready", kPatience));
  const auto file = folder.path("chamberd.toml");
  std::ofstream(file) << "[log]\nfile = \"chamber.db\"\n[listen]\nsocket = \"c.sock\"\n" +
                             unit_settings(wire.ours, 1, kTenths) + "timeout = \"300ms\"\n" +
                             unit_settings(wire.ours, 2, kTenths);
  {
    RunningProgram daemon({kChamberd, "--settings", file});
    for (int seen = 0; seen < 4;) {
      seen += peer.line_beginning("asked", kPatience).value() == "asked 2";
    }
  }
  const auto good =
      testing::output_of("sqlite3 " + folder.path("chamber.db") +
                         " 'SELECT DISTINCT name, temperature_mdegc, humidity_mpct "
                         "FROM reading JOIN probe ON probe.id = probe WHERE quality = 0'");
  EXPECT_EQ(good, "2|22000|92000\n");
}

std::string http_settings(const std::string& name, const std::string& port, const std::string& path,
                          const std::string& more = "") {
  return "[[probe]]\nname = \"" + name +
         "\"\nkind = \"http\"\nevery = \"500ms\"\nurl = " + "\"http://127.0.0.1:" + port + path +
         "\"\n" + more;
}

TEST(Probes, http_is_pulled_with_login_and_bounds) {
  const ScratchFolder folder;
  auto peer = python("http_probe_peer.py", {});
  const auto port = peer.line_beginning("", kPatience).value();
  std::ofstream(folder.path("word")) << "not told\n";
  std::ofstream(folder.path("token")) << "s3cret-s3cret-s3cret\n";
  std::ofstream(folder.path("open")) << "s3cret-s3cret-s3cret\n";
  ::chmod(folder.path("word").c_str(), 0600);
  ::chmod(folder.path("token").c_str(), 0600);
  ::chmod(folder.path("open").c_str(), 0644);
  const auto told = once(
      folder,
      http_settings("plain", port, "/") +
          http_settings("placed", port, "/", "json = { temperature = \"/air/t\" }\n") +
          http_settings("basic", port, "/basic", "user = \"grower\"\npassword_file = \"word\"\n") +
          http_settings("bearer", port, "/bearer", "token_file = \"token\"\n") +
          http_settings("stranger", port, "/bearer") +
          http_settings("careless", port, "/bearer", "token_file = \"open\"\n") +
          http_settings("long", port, "/long") +
          http_settings("slow", port, "/slow", "timeout = \"500ms\"\n"));
  for (const auto* name : {"plain", "basic", "bearer"}) {
    EXPECT_EQ(told.at(name).at("temperature_degc"), 24.5) << told.at(name);
    EXPECT_EQ(told.at(name).at("co2_ppm"), 812) << told.at(name);
  }
  EXPECT_NEAR(told.at("placed").at("temperature_degc").get<double>(), 24.0, 1e-9);
  EXPECT_EQ(told.at("placed").at("humidity_pct"), nullptr);
  const auto error = [&](const char* name) { return told.at(name).at("error").get<std::string>(); };
  EXPECT_NE(error("stranger").find("does not let us in: 401"), std::string::npos);
  EXPECT_NE(error("careless").find("others can read this secret"), std::string::npos);
  EXPECT_NE(error("long").find("too large"), std::string::npos);
  EXPECT_NE(error("slow").find("no answer in time"), std::string::npos);
  for (const auto& [name, reading] : told) {
    EXPECT_EQ(reading.dump().find("s3cret"), std::string::npos) << name;
  }
}

TEST(Probes, http_stays_connected_and_survives_a_server_that_hangs_up) {
  const ScratchFolder folder;
  auto peer = python("http_probe_peer.py", {});
  const auto port = peer.line_beginning("", kPatience).value();
  const auto file = folder.path("chamberd.toml");
  std::ofstream(file) << "[log]\nfile = \"chamber.db\"\n[listen]\nsocket = \"c.sock\"\n" +
                             http_settings("kept", port, "/kept") +
                             http_settings("closing", port, "/closing");
  std::set<std::string> kept, closing;
  {
    RunningProgram daemon({kChamberd, "--settings", file});
    for (int kept_count = 0; kept_count < 5;) {
      std::istringstream line(peer.line_beginning("", kPatience).value());
      std::string number, path;
      line >> number >> path;
      (path == "/kept" ? kept : closing).insert(number);
      kept_count += path == "/kept";
    }
  }
  EXPECT_EQ(kept.size(), 1u);
  EXPECT_GE(closing.size(), 3u);
  const auto failed = testing::output_of("sqlite3 " + folder.path("chamber.db") +
                                         " 'SELECT count(*) FROM reading WHERE quality <> 0'");
  EXPECT_EQ(failed, "0\n");
}

TEST(Probes, the_kernels_sensor_files_are_read_with_scale_and_offset) {
  // Documentation/ABI/testing/sysfs-bus-iio: (raw + offset) · scale, in thousandths; the scale and
  // offset of one humidity chip's driver: 2.517700195 and -15887.515151, so that raw 26000 is
  // 25460.6 m°C (arithmetic). Humidity without offset, as hwmon too gives it whole.
  const ScratchFolder folder;
  const auto put = [&](const std::string& name, const std::string& text) {
    std::filesystem::create_directories(std::filesystem::path(folder.path(name)).parent_path());
    std::ofstream(folder.path(name)) << text << "\n";
  };
  put("iio/device0/in_temp_raw", "26000");
  put("iio/device0/in_temp_scale", "2.517700195");
  put("iio/device0/in_temp_offset", "-15887.515151");
  put("iio/device0/in_humidityrelative_raw", "63000");
  put("iio/device0/in_humidityrelative_scale", "1.525878906");
  put("iio/device0/in_concentration_co2_raw", "812");
  put("iio/device0/in_concentration_co2_scale", "0.0001");
  put("hwmon/hwmon3/temp1_input", "24250");
  put("hwmon/hwmon3/humidity1_input", "96500");
  put("twice/hwmon1/temp1_input", "1");
  put("twice/hwmon2/temp1_input", "1");
  put("w1/temperature", "21375");
  const auto probe = [](const std::string& name, const std::string& rest) {
    return "[[probe]]\nname = \"" + name + "\"\nkind = \"file\"\n" + rest + "\n";
  };
  const auto told =
      once(folder, probe("iio", "folder = \"iio/device*\"") +
                       probe("hwmon", "folder = \"hwmon/hwmon3\"") +
                       probe("both", "folder = \"twice/hwmon*\"") +
                       probe("none", "folder = \"w1\"") + probe("gone", "folder = \"nowhere\"") +
                       probe("w1",
                             "values = { temperature = { file = \"w1/temperature\", scale = "
                             "0.001 } }"));
  EXPECT_NEAR(told.at("iio").at("temperature_degc").get<double>(), 25.4606, 1e-3);
  EXPECT_NEAR(told.at("iio").at("humidity_pct").get<double>(), 96.130, 1e-3);
  EXPECT_NEAR(told.at("iio").at("co2_ppm").get<double>(), 812, 1e-6);
  EXPECT_NEAR(told.at("hwmon").at("temperature_degc").get<double>(), 24.25, 1e-9);
  EXPECT_NEAR(told.at("hwmon").at("humidity_pct").get<double>(), 96.5, 1e-9);
  EXPECT_NEAR(told.at("w1").at("temperature_degc").get<double>(), 21.375, 1e-9);
  EXPECT_NE(told.at("both").at("error").get<std::string>().find("more than one"),
            std::string::npos);
  EXPECT_NE(told.at("none").at("error").get<std::string>().find("no sensor"), std::string::npos);
  EXPECT_EQ(told.at("gone").at("quality"), "none");
}

TEST(Probes, two_probes_told_of_in_one_stream_of_lines_are_both_heard) {
  const ScratchFolder folder;
  const auto device = folder.path("ours.tty");
  const RunningProgram socat(
      {"/usr/bin/socat", "pty,raw,echo=0,link=" + device,
       "SYSTEM:while echo 1 T=21.0 H=91.0 && echo 2 T=22.0 H=92.0; do sleep 0.1; done"});
  for (int i = 0; i < 200 && !std::filesystem::exists(device); ++i) {
    std::this_thread::sleep_for(50ms);
  }
  std::string settings;
  for (const auto* name : {"1", "2"}) {
    settings += std::string("[[probe]]\nname = \"") + name +
                "\"\nkind = \"serial\"\nevery = \"1s\"\ndevice = \"" + device +
                "\"\ntext = { pattern = '^" + name +
                " T=(?<temperature>\\S+) H=(?<humidity>\\S+)' }\n";
  }
  const auto told = once(folder, settings);
  EXPECT_EQ(told.at("1").at("temperature_degc"), 21.0);
  EXPECT_EQ(told.at("2").at("temperature_degc"), 22.0);
}

TEST(Probes, a_calibration_leads_to_the_line_for_the_settings) {
  // A probe that tells 73.1 % where 75.29 % is true: one jar gives the offset 2.19.
  const ScratchFolder folder;
  const auto device = folder.path("ours.tty");
  const RunningProgram socat({"/usr/bin/socat", "pty,raw,echo=0,link=" + device,
                              "SYSTEM:while echo T=25.0 H=73.1; do sleep 0.05; done"});
  for (int i = 0; i < 200 && !std::filesystem::exists(device); ++i) {
    std::this_thread::sleep_for(50ms);
  }
  const auto file = folder.path("chamberd.toml");
  std::ofstream(file) << "[[probe]]\nname = \"left\"\nkind = \"serial\"\nevery = \"100ms\"\n"
                         "device = \"" +
                             device +
                             "\"\ntext = { pattern = 'T=(?<temperature>\\S+) "
                             "H=(?<humidity>\\S+)' }\n";
  RunningProgram program({kChamberd, "--settings", file, "calibrate", "--probe", "left", "--salt",
                          "NaCl", "--window", "3s", "--jars-ready", "--on", "2027-01-10"});
  const auto said = program.rest();
  EXPECT_NE(said.find("calibration = { humidity = { gain = 1.0000, offset = 2.190 }, done_on = "
                      "2027-01-10 }"),
            std::string::npos)
      << said;
  EXPECT_NE(said.find("It is due again on 2028-01-10"), std::string::npos) << said;
  EXPECT_EQ(program.exit_code(kPatience), 0);
}

TEST(Probes, salts_that_lie_too_close_are_refused_before_the_first_jar) {
  const ScratchFolder folder;
  const auto file = folder.path("chamberd.toml");
  std::ofstream(file) << "[[probe]]\nname = \"left\"\nkind = \"serial\"\ndevice = \"none\"\n"
                         "text = { pattern = 'T=(?<temperature>\\S+)' }\n";
  RunningProgram program({kChamberd, "--settings", file, "calibrate", "--probe", "left", "--salt",
                          "KCl", "--salt", "K2SO4"});
  EXPECT_EQ(program.rest(), "");  // not a word about jars
  EXPECT_EQ(program.exit_code(kPatience), 1);
}

TEST(Probes, what_a_probe_told_can_be_had_back_from_the_log) {
  const ScratchFolder folder;
  const auto file = folder.path("chamberd.toml");
  std::ofstream(file) << "[log]\nfile = \"chamber.db\"\n[listen]\nsocket = \"c.sock\"\n[[probe]]\n"
                         "name = \"sent\"\nkind = \"push\"\ncalibration = { humidity = { gain = "
                         "1.05, offset = -1.5 }, temperature = { offset = 0.3 } }\n";
  RunningProgram daemon({kChamberd, "--settings", file});
  for (int i = 0; i < 200 && !std::filesystem::exists(folder.path("c.sock")); ++i) {
    std::this_thread::sleep_for(50ms);
  }
  const auto answer = testing::output_of(
      "curl -s --max-time 10 --unix-socket " + folder.path("c.sock") +
      " http://chamber/v1/readings -d '["
      "{\"probe\":\"sent\",\"at\":\"2026-01-01T00:00:00Z\",\"temperature_degc\":24.1,"
      "\"humidity_pct\":90.0,\"co2_ppm\":812.5},"
      "{\"probe\":\"sent\",\"at\":\"2026-01-01T00:00:10Z\",\"temperature_degc\":24.2,"
      "\"humidity_pct\":98.0}]'");
  EXPECT_NE(answer.find("\"accepted\":2"), std::string::npos) << answer;
  const auto query = [&](const std::string& sql) {
    return testing::output_of("sqlite3 " + folder.path("chamber.db") + " '" + sql + "'");
  };
  EXPECT_EQ(query("SELECT temperature_mdegc, humidity_mpct FROM reading ORDER BY row"),
            "24400|93000\n24500|100000\n");
  EXPECT_EQ(query("SELECT temperature_mdegc, humidity_mpct FROM reading_as_told ORDER BY row"),
            "24100|90000\n24200|98000\n");
  EXPECT_EQ(query("SELECT kind, value_milli FROM beside ORDER BY reading, kind"),
            "2|812500\n4|98000\n");
}

}  // namespace
}  // namespace takehold::daemon
