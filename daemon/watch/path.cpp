#include "daemon/watch/path.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace takehold::daemon {

using sensors::Instant;
using namespace std::chrono_literals;

namespace {

constexpr auto kRemembered = 15min;
constexpr auto kRecent = 15min;
constexpr auto kLately = 5min;
constexpr auto kShortest = 90s;
constexpr auto kTurn = 20s;            // just after the turn the probes' lag still bends it
constexpr double kDoubtOfBend = 0.15;  // a bend no clearer than this is half believed
constexpr double kLeastBend = 0.3;     // of one part's pace to the next's
constexpr double kGathers = 1.3;       // one part's pace over the last's
constexpr double kStraight = 0.97;

}  // namespace

void Path::see(Instant at, double level) {
  if (!points_.empty() && at - points_.back().at > 2min) points_.clear();
  points_.push_back({at, level});
  while (points_.front().at + kRemembered < at) points_.pop_front();
}

std::optional<double> Path::earlier() const {
  if (points_.empty() || points_.back().at - points_.front().at < 5min) return std::nullopt;
  const auto first = std::find_if(points_.begin(), points_.end(), [&](const Point& point) {
    return points_.back().at - point.at <= kRecent;
  });
  const auto third = std::max<std::ptrdiff_t>(1, (points_.end() - first) / 3);
  double sum = 0;
  for (auto point = first; point != first + third; ++point) sum += point->level;
  return sum / double(third);
}

double Path::steepest(bool fall) const {
  double most = 0;
  auto begin = points_.begin();
  for (const auto& end : points_) {
    if (points_.back().at - end.at > kRecent) continue;
    while (end.at - (begin + 1)->at >= 1min) ++begin;
    if (end.at - begin->at < 1min) continue;
    const double way = fall ? begin->level - end.level : end.level - begin->level;
    most = std::max(most, way / std::chrono::duration<double>(end.at - begin->at).count());
  }
  return most;
}

std::optional<double> Path::lately() const {
  if (points_.empty() || points_.back().at - points_.front().at < kLately) return std::nullopt;
  for (const auto& point : points_) {
    if (points_.back().at - point.at <= kLately) return point.level;
  }
  return std::nullopt;
}

std::optional<Path::Steps> Path::steps(Instant from, double sign) const {
  const Instant now = points_.back().at;
  if (now - from < kShortest) return std::nullopt;
  double sums[3] = {0, 0, 0};
  int counts[3] = {0, 0, 0};
  const double whole = std::chrono::duration<double>(now - from).count();
  for (const auto& point : points_) {
    if (point.at < from) continue;
    const double share = std::chrono::duration<double>(point.at - from).count() / whole;
    const int part = std::min(2, int(3 * share));
    sums[part] += sign * point.level;
    ++counts[part];
  }
  if (counts[0] < 2 || counts[1] < 2 || counts[2] < 2) return std::nullopt;
  return Steps{sums[1] / counts[1] - sums[0] / counts[0], sums[2] / counts[2] - sums[1] / counts[1],
               whole / 3, counts[1]};
}

std::optional<Pace> Path::pace(bool below, double noise) const {
  if (points_.empty()) return std::nullopt;
  const double sign = below ? -1 : 1;
  // The stretch begins where the level was last furthest from the limit.
  const auto turn = std::max_element(
      points_.rbegin(), points_.rend(),
      [&](const Point& a, const Point& b) { return -sign * a.level < -sign * b.level; });
  Instant from = turn->at + kTurn;
  auto steps = this->steps(from, sign);
  if (!steps) return std::nullopt;
  double step_sd = noise * std::sqrt(2.0 / steps->readings);
  // It gathers way: something happened within the stretch. Only what came after it counts.
  while (steps->second > kGathers * std::max(0.0, steps->first) + 2 * step_sd) {
    from += std::chrono::milliseconds(std::llround(1000 * steps->part_s));
    const auto later = this->steps(from, sign);
    if (!later) break;
    steps = later;
    step_sd = noise * std::sqrt(2.0 / steps->readings);
  }
  const auto [first, second, part_s, readings] = *steps;
  if (first + second <= 0) return std::nullopt;
  const double sd = step_sd / part_s;
  if (first <= 0) return Pace{second / part_s, sd, std::numeric_limits<double>::infinity()};
  const double doubt = 1.5 * step_sd / first / kDoubtOfBend;
  const double bend = std::clamp(1 - (1 - second / first) / (1 + doubt * doubt), kLeastBend, 1.2);
  // The mean of the two steps is the pace in the middle part; the present lies 1.5 parts on.
  const double mean_speed = (first + second) / (2 * part_s);
  const double speed = mean_speed * std::pow(bend, 1.5) / ((1 + bend) / (2 * std::sqrt(bend)));
  const double fades =
      bend < kStraight ? -part_s / std::log(bend) : std::numeric_limits<double>::infinity();
  return Pace{speed, sd, fades};
}

}  // namespace takehold::daemon
