// A page in a folder of its own, and other programs' eyes on it.
#pragma once

#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "client/print/paper.hpp"
#include "tests/support/running_program.hpp"

namespace takehold::client {

inline const auto kMadeAt = *sensors::parse_instant("2027-04-12T09:30:00Z");

class PageTest : public ::testing::Test {
 protected:
  PageTest() {
    const auto* test = ::testing::UnitTest::GetInstance()->current_test_info();
    folder_ = std::filesystem::temp_directory_path() /
              ("takehold-page-" + std::to_string(::getpid()) + "-" + test->name());
    std::filesystem::create_directories(folder_);
  }
  ~PageTest() override { std::filesystem::remove_all(folder_); }

  const std::filesystem::path& folder() const { return folder_; }
  std::string file() const { return (folder_ / "page.pdf").string(); }
  Paper pdf(Size page) const { return Paper(file(), PaperKind::pdf, page, kMadeAt); }

  std::string bytes() const {
    std::ifstream in(file(), std::ios::binary);
    return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
  }

  /// Every word of the page, one blank between.
  std::string words() const {
    std::istringstream in(testing::answer_of("pdftotext -layout " + file() + " -"));
    std::string all, word;
    while (in >> word) all += (all.empty() ? "" : " ") + word;
    return all;
  }

  /// The first page as a grey picture, and its name.
  std::string image(int dots_an_inch) const {
    const std::string stem = (folder_ / "page").string();
    testing::answer_of("pdftoppm -gray -f 1 -l 1 -singlefile -r " + std::to_string(dots_an_inch) +
                       " " + file() + " " + stem);
    return stem + ".pgm";
  }

  /// No ink beyond the box, which is given in millimetres; half a millimetre of blur is allowed.
  bool is_white_outside(const Box& box) const {
    constexpr int kDots = 150;
    std::ifstream in(image(kDots), std::ios::binary);
    std::string magic;
    int width = 0, height = 0, most = 0;
    in >> magic >> width >> height >> most;
    in.get();
    std::vector<char> row(static_cast<std::size_t>(width));
    const double mm = 25.4 / kDots, blur = 0.5;
    for (int y = 0; y < height; ++y) {
      in.read(row.data(), width);
      for (int x = 0; x < width; ++x) {
        const bool inside = x * mm >= box.x - blur && x * mm <= box.x + box.width + blur &&
                            y * mm >= box.y - blur && y * mm <= box.y + box.height + blur;
        if (!inside && static_cast<unsigned char>(row[static_cast<std::size_t>(x)]) < 200) {
          return false;
        }
      }
    }
    return static_cast<bool>(in);
  }

 private:
  std::filesystem::path folder_;
};

}  // namespace takehold::client
