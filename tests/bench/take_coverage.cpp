// The model of take rates over 1000 simulated books: 90 % intervals must hold the truth in 88 to 92 %.
#include <fmt/format.h>

#include <cstdlib>

#include "tests/client/takes/simulated_books.hpp"

using namespace takehold::client;

int main(int count, char** words) {
  const int books = count > 1 ? std::atoi(words[1]) : 1000;
  const std::uint64_t seed = count > 2 ? std::strtoull(words[2], nullptr, 10) : 1;
  const Coverage found = coverage_of_books(books, seed);
  const bool good = found.share() >= 0.88 && found.share() <= 0.92;
  fmt::print("{} books, {} intervals: held {:.4f}, truths below the middle {:.4f}  {}\n", books,
             found.intervals, found.share(), found.below_middle, good ? "good" : "BAD");
  return good ? 0 : 1;
}
