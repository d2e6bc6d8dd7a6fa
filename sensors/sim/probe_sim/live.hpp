// The ports of a running probe-sim, and what they share: one scene, one clock.
#pragma once

#include <boost/asio/awaitable.hpp>
#include <boost/asio/ip/tcp.hpp>
#include <cstdint>
#include <functional>

#include "sensors/sim/probe_sim/options.hpp"
#include "sensors/sim/probe_sim/pseudo_terminal.hpp"

namespace takehold::sensors {

/// What one probe says at the moment of asking.
using Says = std::function<std::optional<Decoded>()>;

/// Each runs until the context stops. The terminal must outlive it.
boost::asio::awaitable<void> run_text_port(PseudoTerminal& terminal, Says says, Wording wording,
                                           std::chrono::milliseconds every);
/// `units[i]` is the unit of number `first + i`: several probes on one pair of wires.
boost::asio::awaitable<void> run_modbus_port(PseudoTerminal& terminal, std::vector<Says> units,
                                             std::uint8_t first);
boost::asio::awaitable<void> run_http_port(boost::asio::ip::tcp::acceptor acceptor, Says says);

/// Opens all ports, tells each on standard output, serves until SIGTERM or SIGINT, and takes the
/// links away. `scene` must be checked. Throws Refused.
void run_live(const LiveOptions& options, const SceneSettings& scene);

}  // namespace takehold::sensors
