#include "client/takes/trial.hpp"

#include <algorithm>
#include <cassert>
#include <random>

namespace takehold::client {
namespace {

// std::shuffle and the std:: distributions differ between libraries; the engine does not.
class Shuffler {
 public:
  explicit Shuffler(std::uint64_t seed) : engine_(seed) {}

  template <class T>
  void shuffle(std::vector<T>& list) {
    for (std::size_t i = list.size(); i > 1; --i) std::swap(list[i - 1], list[below(i)]);
  }

 private:
  std::size_t below(std::size_t n) {
    const std::uint64_t most =
        engine_.max() - engine_.max() % n;  // equal shares of what is under it
    std::uint64_t drawn = engine_();
    while (drawn >= most) drawn = engine_();
    return static_cast<std::size_t>(drawn % n);
  }
  std::mt19937_64 engine_;
};

}  // namespace

std::vector<TrialPlace> lay_out_trial(int pairings, int each, int cells, std::uint64_t seed) {
  assert(pairings >= 1 && each >= 1 && cells >= 1);
  Shuffler shuffler(seed);
  // Couples of both ways of one pairing, the pairings in turn: cut into trays, each tray holds as
  // many of the one as of the other, or one more.
  std::vector<TrialPlace> grafts;
  for (int i = 0; i < each; ++i) {
    for (int pairing = 0; pairing < pairings; ++pairing) {
      std::vector<int> ways{0, 1};
      shuffler.shuffle(ways);
      for (const int way : ways) grafts.push_back({0, 0, pairing, way});
    }
  }
  std::vector<TrialPlace> laid;
  for (std::size_t from = 0; from < grafts.size(); from += static_cast<std::size_t>(cells)) {
    const std::size_t to = std::min(grafts.size(), from + static_cast<std::size_t>(cells));
    std::vector<TrialPlace> tray(grafts.begin() + static_cast<std::ptrdiff_t>(from),
                                 grafts.begin() + static_cast<std::ptrdiff_t>(to));
    shuffler.shuffle(tray);
    for (std::size_t i = 0; i < tray.size(); ++i) {
      tray[i].tray = static_cast<int>(from) / cells + 1;
      tray[i].place = static_cast<int>(i) + 1;
      laid.push_back(tray[i]);
    }
  }
  return laid;
}

}  // namespace takehold::client
