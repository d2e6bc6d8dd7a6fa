#include "daemon/log/patient_log.hpp"

#include <algorithm>

namespace takehold::daemon {

using sensors::Instant;
using sensors::Reading;

namespace {

/// As it is told to those who listen while nothing can be written: without rows.
LoggedRound told_only(std::span<const Reading> readings, std::span<const Event> events) {
  LoggedRound round;
  for (const auto& reading : readings) round.readings.push_back({0, reading});
  for (const auto& event : events) round.events.push_back({0, event});
  return round;
}

}  // namespace

LoggedRound PatientLog::write(std::span<const Reading> readings, std::span<const Event> events,
                              Instant now) {
  try {
    if (!trouble_) return log_.write(readings, events);
    keep(readings, events);
    write_waiting();
    trouble_.reset();
  } catch (const std::exception& error) {
    if (!trouble_) keep(readings, events);
    failed(error, now);
  }
  return told_only(readings, events);
}

void PatientLog::save(const Warning& warning, Instant now) {
  try {
    if (!trouble_) return log_.save(warning);
    answered_.push_back(warning);
  } catch (const std::exception& error) {
    answered_.push_back(warning);
    failed(error, now);
  }
}

bool PatientLog::is_waiting(const std::string& probe, Instant at) const {
  return std::any_of(readings_.begin(), readings_.end(), [&](const Reading& reading) {
    return reading.at == at && reading.probe == probe;
  });
}

void PatientLog::keep(std::span<const Reading> readings, std::span<const Event> events) {
  readings_.insert(readings_.end(), readings.begin(), readings.end());
  events_.insert(events_.end(), events.begin(), events.end());
  give_up_surplus();
  if (trouble_) trouble_->waiting = readings_.size();
}

void PatientLog::give_up_surplus() {
  while (readings_.size() > patience_.readings) {
    const Instant at = readings_.front().at;
    if (!given_up_) given_up_ = Gap{at, at, Gap::Why::given_up};
    given_up_->to = std::max(given_up_->to, at);
    if (trouble_) ++trouble_->given_up;
    readings_.pop_front();
  }
  // A warning's last word is the one that must be kept.
  while (events_.size() > patience_.events) events_.pop_front();
}

/// In pieces, each one commit, so that a long wait makes no long pause.
void PatientLog::write_waiting() {
  constexpr std::size_t kPiece = 5000;
  while (!readings_.empty() || !events_.empty()) {
    const auto count = std::min(kPiece, readings_.size());
    const std::vector<Reading> piece(readings_.begin(), readings_.begin() + std::ptrdiff_t(count));
    const std::vector<Event> events(events_.begin(), events_.end());
    log_.write(piece, events);
    readings_.erase(readings_.begin(), readings_.begin() + std::ptrdiff_t(count));
    events_.clear();
    trouble_->waiting = readings_.size();
  }
  for (const auto& warning : answered_) log_.save(warning);
  answered_.clear();
  if (given_up_) log_.note_gap(given_up_->from, given_up_->to, given_up_->why);
  given_up_.reset();
}

void PatientLog::failed(const std::exception& error, Instant now) {
  if (!trouble_) trouble_ = LogTrouble{now, "", 0, 0};
  trouble_->error = error.what();
  trouble_->waiting = readings_.size();
}

}  // namespace takehold::daemon
