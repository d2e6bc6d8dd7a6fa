// How chamberd talks to a probe: three calls, one file a kind of probe.
//
// How to add one: docs/probes.md, from skeleton_driver.hpp. When to call what is decided in
// daemon/poll; that probes of one line are asked one after the other, in poller.hpp.
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
  /// One answer within `timeout`; it must not block longer. Code "silent": nothing came; "lost":
  /// the line broke and must be opened anew; any other: something came that is no reading.
  virtual awaitable<sensors::Result<sensors::Decoded>> ask(std::chrono::milliseconds timeout) = 0;
  virtual void close() = 0;
};

/// Serial lines in use, by device. They may be shared: several Modbus units on one pair of wires,
/// or several probes told of in one stream of lines.
class SerialLine;
class TextFeed;
struct Wires {
  std::map<std::string, std::shared_ptr<SerialLine>> lines;
  std::map<std::string, std::shared_ptr<TextFeed>> feeds;
};

/// Null for a probe that sends its readings to us. `wires` grows by the lines in use.
std::unique_ptr<Driver> make_driver(const ProbeSettings& probe, Wires& wires);

}  // namespace takehold::daemon
