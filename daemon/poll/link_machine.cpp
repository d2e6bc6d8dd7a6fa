#include "daemon/poll/link_machine.hpp"

#include <algorithm>

namespace takehold::daemon {

LinkMachine::Action LinkMachine::next(MonotoneTime now) const {
  if (open_) return Action::ask;
  return now >= not_before_ ? Action::open_and_ask : Action::rest;
}

bool LinkMachine::report(Outcome outcome, MonotoneTime now) {
  switch (outcome) {
    case Outcome::answered:
    case Outcome::garbled:
      open_ = true;
      silences_ = 0;
      pause_ = std::chrono::milliseconds(0);
      return false;
    case Outcome::silent:
      open_ = true;
      if (++silences_ < options_.silences_before_reopen) return false;
      open_ = false;
      silences_ = 0;
      not_before_ = now;  // a silent line did open: no reason to wait before the next try
      return true;
    case Outcome::lost:
      back_off(now);
      return true;
  }
  return false;
}

void LinkMachine::back_off(MonotoneTime now) {
  open_ = false;
  silences_ = 0;
  pause_ = pause_.count() == 0 ? options_.first_pause : std::min(pause_ * 2, options_.pause_limit);
  not_before_ = now + pause_;
}

}  // namespace takehold::daemon
