#include "sensors/sim/probe_sim/live.hpp"

#include <boost/asio/co_spawn.hpp>
#include <boost/asio/detached.hpp>
#include <boost/asio/io_context.hpp>
#include <boost/asio/signal_set.hpp>
#include <csignal>
#include <iostream>
#include <list>

namespace takehold::sensors {
namespace {

namespace asio = boost::asio;
using asio::ip::tcp;

/// The scene on a clock that may run fast.
class RunningScene {
 public:
  RunningScene(const SceneSettings& settings, double speed)
      : scene_(settings), start_(settings.start), speed_(speed), began_(Clock::now()) {}

  std::optional<Decoded> says(int probe) {
    const std::chrono::duration<double> real = Clock::now() - began_;
    scene_.advance_to(start_ + std::chrono::milliseconds(
                                   static_cast<std::int64_t>(1000.0 * speed_ * real.count())));
    return scene_.says(probe);
  }

 private:
  using Clock = std::chrono::steady_clock;
  Scene scene_;
  Instant start_;
  double speed_;
  Clock::time_point began_;
};

tcp::acceptor listen_on(asio::io_context& context, int port) {
  const tcp::endpoint endpoint(asio::ip::address_v4::loopback(),
                               static_cast<asio::ip::port_type>(port));
  try {
    return tcp::acceptor(context, endpoint);
  } catch (const boost::system::system_error& error) {
    throw Refused({"port-taken", "the HTTP port cannot be opened", error.code().message(),
                   std::to_string(port), "port 0 takes any free one"});
  }
}

/// A failed port ends the program: nothing would be behind its name.
void rethrow(std::exception_ptr failure) {
  if (failure) std::rethrow_exception(failure);
}

}  // namespace

void run_live(const LiveOptions& options, const SceneSettings& settings) {
  asio::io_context context;
  asio::signal_set signals(context, SIGTERM, SIGINT);  // before there is anything to take away
  signals.async_wait([&](auto, auto) { context.stop(); });
  RunningScene scene(settings, options.speed);
  std::list<PseudoTerminal> terminals;
  int probe = 0;
  const auto next_probe = [&] { return [&scene, number = probe++] { return scene.says(number); }; };

  for (const auto& link : options.text_links) {
    auto& terminal = terminals.emplace_back(link);
    asio::co_spawn(context, run_text_port(terminal, next_probe(), options.wording, options.every),
                   rethrow);
    std::cout << "probe " << probe << ": text on " << link << "\n";
  }
  for (const auto& link : options.modbus_links) {
    auto& terminal = terminals.emplace_back(link);
    asio::co_spawn(context,
                   run_modbus_port(terminal, next_probe(), static_cast<std::uint8_t>(options.unit)),
                   rethrow);
    std::cout << "probe " << probe << ": modbus unit " << options.unit << " on " << link << "\n";
  }
  if (options.http_port) {
    auto acceptor = listen_on(context, *options.http_port);
    const auto port = acceptor.local_endpoint().port();
    asio::co_spawn(context, run_http_port(std::move(acceptor), next_probe()), rethrow);
    std::cout << "probe " << probe << ": json on http://127.0.0.1:" << port << "/\n";
  }
  std::cout << "ready" << std::endl;

  context.run();
}

}  // namespace takehold::sensors
