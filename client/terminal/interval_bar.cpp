#include "client/terminal/interval_bar.hpp"

#include <cassert>
#include <cmath>

namespace takehold::client {

std::string interval_bar(double low, double middle, double high, int width,
                         const TerminalStyle& style) {
  assert(width >= 5);
  const auto column = [&](double share) {
    return static_cast<int>(std::lround(share * (width - 1)));
  };
  std::string bar;
  for (int i = 0; i < width; ++i) {
    const bool inside = column(low) <= i && i <= column(high);
    if (i == column(middle)) {
      bar += style.unicode ? "●" : "o";
    } else if (inside) {
      bar += style.unicode ? "━" : "=";
    } else {
      bar += style.unicode ? "·" : ".";
    }
  }
  return bar;
}

}  // namespace takehold::client
