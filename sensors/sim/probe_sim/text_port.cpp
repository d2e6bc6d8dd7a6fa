// A probe that talks by itself: a line every so often, to whoever listens.
#include <unistd.h>

#include <boost/asio/steady_timer.hpp>
#include <boost/asio/this_coro.hpp>
#include <boost/asio/use_awaitable.hpp>

#include "sensors/sim/probe_sim/live.hpp"

namespace takehold::sensors {
namespace {

/// What a listener sends is read and forgotten, lest the terminal's buffer fill up.
void forget_input(int master) {
  char bytes[256];
  while (::read(master, bytes, sizeof bytes) > 0) {
  }
}

void write_line(const PseudoTerminal& terminal, const std::string& line) {
  // Unheard lines are lost, as on a wire; a line that does not fit is broken, as on a wire too.
  if (!terminal.is_listened_to()) return;
  forget_input(terminal.master());
  const auto written = ::write(terminal.master(), line.data(), line.size());
  static_cast<void>(written);
}

}  // namespace

boost::asio::awaitable<void> run_text_port(PseudoTerminal& terminal, Says says, Wording wording,
                                           std::chrono::milliseconds every) {
  boost::asio::steady_timer timer(co_await boost::asio::this_coro::executor);
  for (auto next = std::chrono::steady_clock::now();; next += every) {
    timer.expires_at(next);
    co_await timer.async_wait(boost::asio::use_awaitable);
    if (const auto values = says()) write_line(terminal, worded(*values, wording) + "\r\n");
  }
}

}  // namespace takehold::sensors
