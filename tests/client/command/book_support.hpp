// A season in a book of its own, in a folder that goes with the test.
#pragma once

#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include "tests/client/command/run_support.hpp"

namespace takehold::client {

inline constexpr const char* kSheet = R"(season = "2027"
ready_on = 2027-05-29
confidence = 0.90
time_zone = "Europe/Lisbon"
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
label = "QP-24"
variety = "Quarry Pink"
year = 2026
seeds = 80
origin = "fermented"
[[lot]]
label = "IF-26"
variety = "Ironfoot"
year = 2026
seeds = 80
price = 9.50
[[pairing]]
scion = "Quarry Pink"
rootstock = "Ironfoot"
want = 6
[[own_root]]
variety = "Quarry Pink"
want = 2
)";

/// Runs with --book of its own and --now as the test says.
class BookTest : public testing::Test {
 protected:
  void SetUp() override {
    std::string name = (std::filesystem::temp_directory_path() / "takehold-XXXXXX").string();
    ASSERT_NE(mkdtemp(name.data()), nullptr);
    folder_ = name;
    write("2027.toml", kSheet);
  }
  void TearDown() override { std::filesystem::remove_all(folder_); }

  std::string file(const std::string& name) const { return (folder_ / name).string(); }
  void write(const std::string& name, const std::string& text) const {
    std::ofstream(file(name)) << text;
  }
  std::string read(const std::string& name) const {
    std::ifstream in(file(name), std::ios::binary);
    return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
  }

  Said say(std::vector<std::string> words, const std::string& typed = "") const {
    words.insert(words.begin(), {"--book", file("book.db"), "--now", now_});
    return run(words, typed);
  }
  Said say_json(std::vector<std::string> words) const {
    words.emplace_back("--json");
    return say(std::move(words));
  }
  void load() const {
    const Said said = say({"season", "load", file("2027.toml")});
    ASSERT_EQ(said.exit_code, kDone) << said.err;
  }

  std::filesystem::path folder_;
  std::string now_ = "2027-04-01T09:00:00Z";
};

}  // namespace takehold::client
