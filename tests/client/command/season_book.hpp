// A real book in a folder of its own, with a small invented season in it.
#pragma once

#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <stdexcept>

#include "client/book/recorder.hpp"
#include "client/season/pairing.hpp"
#include "client/season/place.hpp"
#include "client/season/season.hpp"
#include "client/season/seed.hpp"
#include "client/season/sowing.hpp"
#include "tests/client/command/run_support.hpp"

namespace takehold::client {

/// Commands run at 2027-04-12T09:30:00Z unless they say --now; the book's zone is UTC.
class SeasonBook : public ::testing::Test {
 protected:
  SeasonBook() {
    const auto* test = ::testing::UnitTest::GetInstance()->current_test_info();
    folder_ = std::filesystem::temp_directory_path() /
              ("takehold-" + std::to_string(::getpid()) + "-" + test->name());
    std::filesystem::create_directories(folder_);
    fill(open());
  }
  ~SeasonBook() override { std::filesystem::remove_all(folder_); }

  Book open() const {
    return Book::open(folder_ / "book.db", *sensors::parse_instant("2027-02-01T08:00:00Z"),
                      {.time_zone = "UTC"});
  }

  /// Runs with this book, and a daemon's address that nobody answers at.
  Said told(std::vector<std::string> words, const std::string& typed = "") const {
    words.insert(words.end(), {"--book", (folder_ / "book.db").string(), "--daemon",
                               "unix:" + (folder_ / "nobody.sock").string(), "--json"});
    return run(words, typed);
  }
  /// The answer to words that must be accepted.
  nlohmann::json done(std::vector<std::string> words, const std::string& typed = "") const {
    const Said said = told(std::move(words), typed);
    if (said.exit_code != 0) throw std::runtime_error("refused: " + said.err);
    return said.document();
  }
  std::string refused(std::vector<std::string> words) const {
    const Said said = told(std::move(words));
    EXPECT_EQ(said.exit_code, 1) << said.err;
    return said.document()["error"]["code"];
  }

  std::filesystem::path folder_;

 private:
  static void fill(Book book) {
    book.record("set up", *sensors::parse_instant("2027-02-01T08:00:00Z"), [](Recorder& r) {
      Season season;
      season.season = "2027";
      season.ready_on = sensors::make_day(2027, 5, 15);
      r.put(season);
      r.put(Bench{"warm bench"});
      Bench frame{"cold frame"};
      frame.position = 1;
      r.put(frame);
      r.put(Variety{"Quarry Pink", Role::scion});
      r.put(Variety{"Ironfoot", Role::rootstock});
      r.put(Lot{"QP-24", "Quarry Pink", 2024, 30});
      r.put(Lot{"IF-26", "Ironfoot", 2026, 20});
      Pairing pairing;
      pairing.id = r.next_number(Kind::pairing);
      pairing.scion = "Quarry Pink";
      pairing.rootstock = "Ironfoot";
      pairing.want = 3;
      r.put(pairing);
    });
  }
};

}  // namespace takehold::client
