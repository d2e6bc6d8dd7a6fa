#include "daemon/watch/grade.hpp"

namespace takehold::daemon {

using namespace std::chrono_literals;

namespace {

constexpr auto kTender = 72h;

bool is_dangerous(const Depth& depth) {
  const bool tender = depth.healing < kTender;
  if (depth.until) return tender && *depth.until < 15min;
  if (tender) return depth.steps >= 3 || depth.lasting >= 15min;
  return depth.steps >= 10 || depth.lasting >= 60min;
}

}  // namespace

Grade grade_of(const Depth& depth) {
  if (is_dangerous(depth)) return Grade::dangerous;
  return depth.until && depth.healing >= kTender ? Grade::mild : Grade::serious;
}

}  // namespace takehold::daemon
