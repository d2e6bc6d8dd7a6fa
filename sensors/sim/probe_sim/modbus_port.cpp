// A probe that answers: Modbus RTU, a frame ending with silence.
#include <unistd.h>

#include <boost/asio/buffer.hpp>
#include <boost/asio/posix/stream_descriptor.hpp>
#include <boost/asio/redirect_error.hpp>
#include <boost/asio/steady_timer.hpp>
#include <boost/asio/this_coro.hpp>
#include <boost/asio/use_awaitable.hpp>

#include "sensors/sim/modbus_unit.hpp"
#include "sensors/sim/probe_sim/live.hpp"

namespace takehold::sensors {
namespace {

namespace asio = boost::asio;

// Longer than the standard's t3.5: a terminal of the system's has no baud rate but does hand bytes
// over in pieces.
constexpr auto kSilence = std::chrono::milliseconds(5);
constexpr auto kLookAgain = std::chrono::milliseconds(50);  // while nobody listens
constexpr std::size_t kLongestFrame = 256;

/// Takes what has come, without waiting. False: nothing new.
bool take_bytes(int master, Bytes& frame) {
  std::uint8_t bytes[kLongestFrame];
  const auto n = ::read(master, bytes, sizeof bytes);
  if (n <= 0) return false;
  if (frame.size() <= kLongestFrame) frame.insert(frame.end(), bytes, bytes + n);
  return true;
}

asio::awaitable<void> pause(std::chrono::milliseconds time) {
  asio::steady_timer timer(co_await asio::this_coro::executor, time);
  co_await timer.async_wait(asio::use_awaitable);
}

/// Lends the master side to Asio without giving it away.
class Lent {
 public:
  Lent(const asio::any_io_executor& executor, int fd) : stream(executor, fd) {}
  ~Lent() { stream.release(); }
  Lent(const Lent&) = delete;
  Lent& operator=(const Lent&) = delete;
  asio::posix::stream_descriptor stream;
};

}  // namespace

asio::awaitable<void> run_modbus_port(PseudoTerminal& terminal, std::vector<Says> units,
                                      std::uint8_t first) {
  Lent lent(co_await asio::this_coro::executor, terminal.master());
  for (;;) {
    while (!terminal.is_listened_to()) co_await pause(kLookAgain);
    boost::system::error_code error;
    co_await lent.stream.async_wait(asio::posix::stream_descriptor::wait_read,
                                    asio::redirect_error(asio::use_awaitable, error));
    Bytes frame;
    while (take_bytes(terminal.master(), frame)) co_await pause(kSilence);
    const auto unit = frame.empty() ? 0u : unsigned(frame[0]);
    if (unit < first || unit >= first + units.size()) continue;
    const auto answer = answer_frame(static_cast<std::uint8_t>(unit), frame, units[unit - first]());
    if (!answer) continue;
    const auto written = ::write(terminal.master(), answer->data(), answer->size());
    static_cast<void>(written);  // a listener that went away asks again
  }
}

}  // namespace takehold::sensors
