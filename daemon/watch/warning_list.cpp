#include "daemon/watch/warning_list.hpp"

#include <algorithm>

namespace takehold::daemon {

using sensors::Instant;

namespace {

/// Over but never acknowledged, they would pile up for months; standing ones are few by nature.
constexpr std::size_t kMostKept = 200;

}  // namespace

std::int64_t WarningList::raise(Warning warning, Instant at, std::vector<Event>& events) {
  warning.number = ++last_number_;
  warning.raised_at = at;
  events.push_back({at, EventType::warning, warning, "", warning.text});
  warnings_.push_back(std::move(warning));
  forget_surplus();
  return last_number_;
}

void WarningList::clear(std::optional<std::int64_t>& number, Instant at, std::string text,
                        std::vector<Event>& events) {
  if (!number) return;
  if (Warning* warning = find_own(*number)) {
    warning->cleared_at = at;
    events.push_back({at, EventType::cleared, *warning, "", std::move(text)});
    if (warning->acknowledged_at) forget(*number);
  }
  number.reset();
}

void WarningList::regrade(std::int64_t number, Grade grade) {
  Warning* warning = find_own(number);
  if (warning != nullptr) warning->grade = std::max(warning->grade, grade);
}

std::optional<Warning> WarningList::acknowledge(std::int64_t number, Instant at) {
  Warning* warning = find_own(number);
  if (warning == nullptr) return std::nullopt;
  if (!warning->acknowledged_at) warning->acknowledged_at = at;
  const Warning after = *warning;
  if (!after.standing()) forget(number);
  return after;
}

std::optional<Warning> WarningList::shelve(std::int64_t number, Instant until) {
  Warning* warning = find_own(number);
  if (warning == nullptr) return std::nullopt;
  warning->shelved_until = until;
  return *warning;
}

const Warning* WarningList::find(std::int64_t number) const {
  const auto found = std::find_if(warnings_.begin(), warnings_.end(),
                                  [&](const Warning& w) { return w.number == number; });
  return found == warnings_.end() ? nullptr : &*found;
}

const Warning* WarningList::standing(Cause cause) const {
  const auto found = std::find_if(warnings_.begin(), warnings_.end(), [&](const Warning& w) {
    return w.standing() && w.cause == cause && w.kind != WarningKind::probe;
  });
  return found == warnings_.end() ? nullptr : &*found;
}

Warning* WarningList::find_own(std::int64_t number) {
  return const_cast<Warning*>(find(number));
}

void WarningList::forget(std::int64_t number) {
  std::erase_if(warnings_, [&](const Warning& w) { return w.number == number; });
}

void WarningList::forget_surplus() {
  if (warnings_.size() <= kMostKept) return;
  const auto over = std::find_if(warnings_.begin(), warnings_.end(),
                                 [](const Warning& w) { return !w.standing(); });
  if (over != warnings_.end()) warnings_.erase(over);  // the log has it for good
}

}  // namespace takehold::daemon
