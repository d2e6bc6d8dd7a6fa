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

/// Opens ports one after another, each the next probe of the scene, and tells of them.
class Ports {
 public:
  Ports(asio::io_context& context, RunningScene& scene, std::list<PseudoTerminal>& terminals)
      : context_(context), scene_(scene), terminals_(terminals) {}

  void open_text(const std::string& link, const LiveOptions& options) {
    auto& terminal = terminals_.emplace_back(link);
    start(run_text_port(terminal, next_probe(), options.wording, options.every), "text on " + link);
  }

  void open_modbus(const std::string& link, int first, int count) {
    auto& terminal = terminals_.emplace_back(link);
    std::vector<Says> units;
    for (int i = 0; i < count; ++i) {
      units.push_back(next_probe());
      std::cout << "probe " << probes_ << ": modbus unit " << first + i << " on " << link << "\n";
    }
    asio::co_spawn(context_,
                   run_modbus_port(terminal, std::move(units), static_cast<std::uint8_t>(first)),
                   rethrow);
  }

  void open_http(int wanted) {
    auto acceptor = listen_on(context_, wanted);
    const auto port = std::to_string(acceptor.local_endpoint().port());
    start(run_http_port(std::move(acceptor), next_probe()),
          "json on http://127.0.0.1:" + port + "/");
  }

 private:
  Says next_probe() {
    return [this, number = probes_++] { return scene_.says(number); };
  }

  void start(asio::awaitable<void> port, const std::string& told) {
    asio::co_spawn(context_, std::move(port), rethrow);
    std::cout << "probe " << probes_ << ": " << told << "\n";
  }

  asio::io_context& context_;
  RunningScene& scene_;
  std::list<PseudoTerminal>& terminals_;
  int probes_ = 0;
};

}  // namespace

void run_live(const LiveOptions& options, const SceneSettings& settings) {
  RunningScene scene(settings, options.speed);
  std::list<PseudoTerminal> terminals;  // outlive the context, which holds the ports' coroutines
  asio::io_context context;
  asio::signal_set signals(context, SIGTERM, SIGINT);  // before there is anything to take away
  signals.async_wait([&](auto, auto) { context.stop(); });

  Ports ports(context, scene, terminals);
  for (const auto& link : options.text_links) ports.open_text(link, options);
  for (const auto& link : options.modbus_links)
    ports.open_modbus(link, options.unit, options.units);
  if (options.http_port) ports.open_http(*options.http_port);
  std::cout << "ready" << std::endl;
  context.run();
}

}  // namespace takehold::sensors
