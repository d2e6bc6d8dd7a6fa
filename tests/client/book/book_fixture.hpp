// A book in a folder of its own, gone after the test, with a little in it to record about.
#pragma once

#include <gtest/gtest.h>

#include <filesystem>
#include <string>

#include "client/book/book.hpp"
#include "client/book/recorder.hpp"
#include "client/season/batch.hpp"
#include "client/season/pairing.hpp"

namespace takehold::client {

inline Instant instant(const char* text) {
  return sensors::parse_instant(text).value();
}

class BookTest : public testing::Test {
 protected:
  BookTest() {
    // In memory where there is such a folder: these tests commit thousands of times, and none of
    // them cuts the power.
    const std::filesystem::path memory = "/dev/shm";
    const auto folder =
        std::filesystem::is_directory(memory) ? memory : std::filesystem::temp_directory_path();
    std::string name = (folder / "book-test-XXXXXX").string();
    folder_ = ::mkdtemp(name.data());
    path_ = folder_ / "book.db";
  }
  ~BookTest() override { std::filesystem::remove_all(folder_); }

  Book open() { return Book::open(path_, kNow, {.time_zone = "Europe/Lisbon"}); }

  static void add_seed(Book& book, int seeds = 30) {
    book.record("variety add", kNow, [](Recorder& r) {
      r.put(Variety{.name = "Quarry Pink", .role = Role::scion});
      r.put(Variety{.name = "Ironfoot", .role = Role::rootstock});
    });
    book.record("lot add", kNow, [seeds](Recorder& r) {
      r.put(Lot{.label = "QP-24", .variety = "Quarry Pink", .seeds = seeds});
    });
    book.record("pairing add", kNow, [](Recorder& r) {
      r.put(Pairing{.id = r.next_number(Kind::pairing),
                    .scion = "Quarry Pink",
                    .rootstock = "Ironfoot",
                    .want = 6});
    });
  }

  static std::string sow(Book& book, int seeds) {
    std::string id;
    book.record("sow QP-24 --count " + std::to_string(seeds), kNow, [&](Recorder& r) {
      id = r.next_number(Kind::sowing);
      r.put(Sowing{.id = id, .lot = "QP-24", .at = kNow, .seeds = seeds, .cells = (seeds + 1) / 2});
    });
    return id;
  }

  static std::string graft(Book& book, int count) {
    std::string id;
    book.record("graft P1 --count " + std::to_string(count), kNow, [&](Recorder& r) {
      id = r.next_number(Kind::batch);
      Batch batch{.id = id, .pairing = "P1", .scion = "Quarry Pink", .rootstock = "Ironfoot"};
      batch.at = kNow;
      for (int i = 1; i <= count; ++i) batch.grafts.push_back(Graft{.number = i, .place = i});
      batch.regime = "steady";
      batch.regime_plan = R"({"name":"steady","source":"own","stages":[]})";
      r.put(batch);
    });
    return id;
  }

  static inline const Instant kNow = instant("2027-03-01T10:00:00Z");
  std::filesystem::path folder_;
  std::filesystem::path path_;
};

/// The code of the Refused that `action` throws; "" if it throws none.
template <class Action>
std::string refusal(Action action) {
  try {
    action();
  } catch (const sensors::Refused& e) {
    return e.problem().code;
  }
  return "";
}

}  // namespace takehold::client
