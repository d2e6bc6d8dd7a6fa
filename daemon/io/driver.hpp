// How chamberd talks to a probe: three calls, one file a kind of probe.
//
// To add a kind: a source in settings/, a file here that implements Driver, a line in
// make_driver(), a recorded exchange in tests/. When to call what is decided in daemon/poll.
#pragma once

#include <chrono>
#include <map>
#include <memory>
#include <string>

#include "daemon/io/asio.hpp"
#include "daemon/settings/settings.hpp"
#include "sensors/codec/decoded.hpp"
#include "sensors/quantity/problem.hpp"

namespace takehold::daemon {

class Driver {
 public:
  virtual ~Driver() = default;

  /// Makes the line ready; does nothing if it is. Failure: it cannot be reached now.
  virtual awaitable<sensors::Result<void>> open() = 0;
  /// One answer within `timeout`. Code "silent": nothing came; "lost": the line broke and must be
  /// opened anew; any other: something came that is no reading.
  virtual awaitable<sensors::Result<sensors::Decoded>> ask(std::chrono::milliseconds timeout) = 0;
  virtual void close() = 0;
};

/// A serial line may be shared: several Modbus units on one pair of wires.
class SerialLine;
using SerialLines = std::map<std::string, std::shared_ptr<SerialLine>>;

/// Null for a probe that sends its readings to us. `lines` grows by the lines in use.
std::unique_ptr<Driver> make_driver(const ProbeSettings& probe, SerialLines& lines);

}  // namespace takehold::daemon
