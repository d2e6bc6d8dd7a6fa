#include "client/command/nearest.hpp"

#include <algorithm>
#include <vector>

namespace takehold::client {

int typing_distance(std::string_view a, std::string_view b) {
  // Restricted edit distance with exchanges (Damerau 1964), row by row.
  std::vector<std::vector<int>> d(a.size() + 1, std::vector<int>(b.size() + 1, 0));
  for (std::size_t i = 0; i <= a.size(); ++i) d[i][0] = static_cast<int>(i);
  for (std::size_t j = 0; j <= b.size(); ++j) d[0][j] = static_cast<int>(j);
  for (std::size_t i = 1; i <= a.size(); ++i) {
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const int wrong = a[i - 1] == b[j - 1] ? 0 : 1;
      d[i][j] = std::min({d[i - 1][j] + 1, d[i][j - 1] + 1, d[i - 1][j - 1] + wrong});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) {
        d[i][j] = std::min(d[i][j], d[i - 2][j - 2] + 1);
      }
    }
  }
  return d[a.size()][b.size()];
}

std::optional<std::string> nearest_name(std::string_view typed,
                                        std::span<const std::string> names) {
  std::optional<std::string> best;
  int least = 0;
  for (const std::string& name : names) {
    const bool begins = typed.size() >= 2 && name.starts_with(typed);
    const int distance = begins ? 0 : typing_distance(typed, name);
    const int allowed = std::max(name.size() <= 2 ? 1 : 2, static_cast<int>(name.size()) / 3);
    if (distance > allowed || (best && distance >= least)) continue;
    best = name;
    least = distance;
  }
  return best;
}

}  // namespace takehold::client
