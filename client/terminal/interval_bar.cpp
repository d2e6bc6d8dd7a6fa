#include "client/terminal/interval_bar.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace takehold::client {

namespace {

struct BarColumns {
  int low, middle, high;
  int zero = -1;  ///< none
};

std::string drawn(const BarColumns& at, int width, const TerminalStyle& style) {
  std::string bar;
  for (int i = 0; i < width; ++i) {
    if (i == at.middle) {
      bar += style.unicode ? "●" : "o";
    } else if (i == at.zero) {
      bar += style.unicode ? "│" : "|";
    } else if (at.low <= i && i <= at.high) {
      bar += style.unicode ? "━" : "=";
    } else {
      bar += style.unicode ? "·" : ".";
    }
  }
  return bar;
}

}  // namespace

std::string interval_bar(double low, double middle, double high, int width,
                         const TerminalStyle& style) {
  assert(width >= 5);
  const auto column = [&](double share) {
    return static_cast<int>(std::lround(share * (width - 1)));
  };
  return drawn({column(low), column(middle), column(high)}, width, style);
}

std::string difference_bar(double low, double middle, double high, double reach, int width,
                           const TerminalStyle& style) {
  assert(width >= 5 && width % 2 == 1 && reach > 0);
  const auto column = [&](double value) {
    const double share = std::clamp((value / reach + 1) / 2, 0.0, 1.0);
    return static_cast<int>(std::lround(share * (width - 1)));
  };
  return drawn({column(low), column(middle), column(high), width / 2}, width, style);
}

}  // namespace takehold::client
