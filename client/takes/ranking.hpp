// Varieties in order of the grower's own scores, with ties and few plants respected.
#pragma once

#include <string>
#include <vector>

namespace takehold::client {

/// What a variety's plants scored; several scores of one plant are averaged before.
struct Scored {
  std::string variety{};
  std::vector<double> by_plant{};
};

/// Of at least one value.
double mean_of(const std::vector<double>& values);

struct Ranked {
  std::string variety{};
  int plants = 0;
  double mean = 0;
  double low = 0, high = 0;  ///< 9 times in 10, from the scatter between plants of all varieties
  int place = 1;             ///< 1 + how many are clearly better; equal places are a tie
};

/// Best mean first; varieties without a score are left out. The scatter between plants of one
/// variety is pooled over all; where no variety has two plants it is taken as 1 point (assumed).
/// One is clearly better if the difference of the means is beyond its 90 % interval by the t
/// distribution.
std::vector<Ranked> ranking_of(std::vector<Scored> varieties);

}  // namespace takehold::client
