#include "daemon/watch/usual.hpp"

#include <algorithm>
#include <vector>

namespace takehold::daemon {

using sensors::Instant;
using namespace std::chrono_literals;

namespace {

constexpr auto kRemembered = 4h;
constexpr auto kRecent = 60min;
constexpr std::size_t kEnough = 40;   // ordinary minutes
constexpr double kMostStrange = 0.6;  // of the last hour, before it is the new usual
constexpr double kMark = 0.02;        // quantile of the minutes taken for a mark
constexpr double kNear = 0.12;        // and the one that tells how ragged the marks are
constexpr double kSteep = 0.04;       // of the slopes

double quantile(std::vector<double>& values, double share) {
  const auto n = std::size_t(share * double(values.size() - 1) + 0.5);
  std::nth_element(values.begin(), values.begin() + std::ptrdiff_t(n), values.end());
  return values[n];
}

}  // namespace

void Usual::see(Instant at, double level, double slope, double level_sd, bool disturbed) {
  const auto minute = std::chrono::floor<std::chrono::minutes>(at);
  if (is_open_ && open_.at != minute) close_minute();
  if (!is_open_) {
    open_ = {minute, level, level, 0, slope, slope, 0, false};
    is_open_ = true;
  }
  open_.least = std::min(open_.least, level);
  open_.most = std::max(open_.most, level);
  open_.slope_least = std::min(open_.slope_least, slope);
  open_.slope_most = std::max(open_.slope_most, slope);
  open_.sum += level;
  ++open_.count;
  open_.strange = open_.strange || disturbed || (known_ && (level < below() || level > above()));
  level_sd_ = level_sd;
}

void Usual::close_minute() {
  is_open_ = false;
  minutes_.push_back(open_);
  while (minutes_.front().at + kRemembered < open_.at) minutes_.pop_front();
  std::size_t recent = 0, strange = 0;
  for (auto& one : minutes_) {
    if (one.at + kRecent <= open_.at) continue;
    ++recent;
    strange += one.strange;
  }
  if (recent >= kEnough && double(strange) > kMostStrange * double(recent)) {
    std::erase_if(minutes_, [&](const Minute& one) { return one.at + kRecent <= open_.at; });
    for (auto& one : minutes_) one.strange = false;
  }
  learn();
}

void Usual::learn() {
  std::vector<double> lows, highs, falls, rises;
  double sum = 0;
  int count = 0;
  for (const auto& one : minutes_) {
    if (one.strange) continue;
    lows.push_back(one.least);
    highs.push_back(-one.most);
    falls.push_back(one.slope_least);
    rises.push_back(-one.slope_most);
    sum += one.sum;
    count += one.count;
  }
  known_ = lows.size() >= kEnough;
  if (!known_) return;
  mean_ = sum / count;
  low_ = quantile(lows, kMark);
  high_ = -quantile(highs, kMark);
  const double least = options_.least_margin + 2.5 * level_sd_;
  low_margin_ = least + quantile(lows, kNear) - low_;
  high_margin_ = least + high_ + quantile(highs, kNear);
  fall_ = std::min(0.0, quantile(falls, kSteep));
  rise_ = std::max(0.0, -quantile(rises, kSteep));
}

}  // namespace takehold::daemon
