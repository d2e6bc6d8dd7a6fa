#include "daemon/watch/usual.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

namespace takehold::daemon {

using sensors::Instant;
using namespace std::chrono_literals;

namespace {

constexpr auto kRemembered = 5h;
constexpr auto kRecent = 60min;
constexpr std::size_t kEnough = 40;  // ordinary minutes
constexpr auto kProbation = 60min;   // a minute counts once so long nothing came of it
constexpr auto kLeadUp = 10min;   // what leads up to a minute beyond the marks is no more ordinary
constexpr double kRagged = 0.15;  // of the way between the marks: the most a margin adds for it
constexpr double kMostBeyond = 0.6;  // of the last hour, before it is the new usual
constexpr double kMark = 0.02;       // quantile of the minutes taken for a mark
constexpr double kNear = 0.12;       // and the one that tells how ragged the marks are
constexpr double kFlank = 0.2;       // a mark lies within six times this quantile's distance
constexpr double kFlanks = 6;        // from the median: what is further out was a disturbance
constexpr double kSteep = 0.04;      // of the slopes

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
    open_ = {minute, level, level, 0, slope, slope, 0, false, false};
    is_open_ = true;
  }
  open_.least = std::min(open_.least, level);
  open_.most = std::max(open_.most, level);
  open_.slope_least = std::min(open_.slope_least, slope);
  open_.slope_most = std::max(open_.slope_most, slope);
  open_.sum += level;
  ++open_.count;
  open_.disturbed = open_.disturbed || disturbed;
  open_.beyond = open_.beyond || (known_ && (level < below() || level > above()));
  level_sd_ = level_sd;
}

void Usual::close_minute() {
  is_open_ = false;
  minutes_.push_back(open_);
  while (minutes_.front().at + kRemembered < open_.at) minutes_.pop_front();
  if (open_.beyond) {
    for (auto& one : minutes_) one.beyond = one.beyond || one.at + kLeadUp > open_.at;
  }
  if (has_come_to_rest_elsewhere()) {
    std::erase_if(minutes_, [&](const Minute& one) { return one.at + kRecent <= open_.at; });
    for (auto& one : minutes_) one.beyond = false;
  }
  learn();
}

bool Usual::has_come_to_rest_elsewhere() const {
  std::size_t recent = 0, beyond = 0;
  double earlier = 0, later = 0;
  int earlier_count = 0, later_count = 0;
  for (const auto& one : minutes_) {
    if (one.at + kRecent <= open_.at || one.disturbed) continue;
    ++recent;
    beyond += one.beyond;
    const bool late = one.at + kRecent / 2 > open_.at;
    (late ? later : earlier) += one.sum;
    (late ? later_count : earlier_count) += one.count;
  }
  if (recent < kEnough || double(beyond) <= kMostBeyond * double(recent)) return false;
  if (earlier_count == 0 || later_count == 0) return false;
  const double moved = std::abs(later / later_count - earlier / earlier_count);
  return moved < options_.least_margin + (high_ - low_) / 4;
}

void Usual::learn() {
  std::vector<double> lows, highs, falls, rises;
  double sum = 0;
  int count = 0;
  const bool seasoned = minutes_.size() > kEnough + std::size_t(kProbation / 1min);
  for (const auto& one : minutes_) {
    if (one.beyond || one.disturbed) continue;
    if (seasoned && one.at + kProbation > minutes_.back().at) continue;
    lows.push_back(one.least);
    highs.push_back(-one.most);
    falls.push_back(one.slope_least);
    rises.push_back(-one.slope_most);
    sum += one.sum;
    count += one.count;
  }
  if (lows.size() < kEnough) return;  // what was known holds on
  known_ = true;
  mean_ = sum / count;
  const double low_flank = quantile(lows, kFlank), high_flank = -quantile(highs, kFlank);
  const double low_middle = quantile(lows, 0.5), high_middle = -quantile(highs, 0.5);
  low_ = std::max(quantile(lows, kMark), low_middle - kFlanks * (low_middle - low_flank));
  high_ = std::min(-quantile(highs, kMark), high_middle + kFlanks * (high_flank - high_middle));
  const double least = options_.least_margin + 2.5 * level_sd_;
  const double most = kRagged * (high_ - low_);
  low_margin_ = least + std::clamp(quantile(lows, kNear) - low_, 0.0, most);
  high_margin_ = least + std::clamp(high_ + quantile(highs, kNear), 0.0, most);
  fall_ = std::min(0.0, quantile(falls, kSteep));
  rise_ = std::max(0.0, -quantile(rises, kSteep));
  learn_stays();
}

void Usual::learn_stays() {
  const double middle = (low_ + high_) / 2;
  longest_above_ = 0min;
  std::chrono::minutes stay = 0min;
  for (const auto& one : minutes_) {
    const bool ordinary =
        !one.beyond && !one.disturbed && one.at + kProbation <= minutes_.back().at;
    stay = ordinary && one.least > middle ? stay + 1min : 0min;
    longest_above_ = std::max(longest_above_, stay);
  }
}

}  // namespace takehold::daemon
