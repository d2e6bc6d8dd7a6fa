// What goes wrong, and when: written as KIND@SECONDS, KIND@SECONDS+SECONDS, and for a probe's fault
// with :N after it, the probe's number from 1.
//   door@600        open from second 600, for as long as its kind lasts
//   ajar@600+900    open a hand's breadth for a quarter of an hour
//   silent@30:2     the second probe says nothing any more
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <string_view>

#include "sensors/quantity/problem.hpp"

namespace takehold::sensors {

enum class FaultKind {
  door,    ///< wide open, 2 minutes unless told otherwise
  ajar,    ///< not quite shut
  leak,    ///< a slow one
  dry,     ///< the humidifier's water is out
  soak,    ///< the humidifier does not stop
  cold,    ///< the heater does not start
  hot,     ///< the heater does not stop
  mist,    ///< somebody sprays, 10 s unless told otherwise
  silent,  ///< a probe says nothing
  stuck,   ///< a probe repeats itself
  wet,     ///< a probe has a drop on it: 100 %
  jump,    ///< a probe's values leap about
  off,     ///< a probe tells 8 points too little humidity
  wild,    ///< a probe tells what it tells with a broken wire: all bits high
};

bool is_of_probe(FaultKind kind);

struct Fault {
  FaultKind kind;
  std::chrono::seconds from{0};                ///< after the start
  std::optional<std::chrono::seconds> length;  ///< none: until the end
  int probe = 1;                               ///< from 1; of probe faults only

  bool is_on(std::chrono::seconds since_start) const;
};

/// Code "bad-fault", with what may be written in the hint.
Result<Fault> parse_fault(std::string_view text);

/// "door ajar leak ...": for help texts.
std::string fault_names();

}  // namespace takehold::sensors
