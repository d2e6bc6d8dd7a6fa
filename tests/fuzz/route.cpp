// Methods and targets of requests, addresses, and streams of events: the first line is the method.
#include "daemon/api/route.hpp"
#include "daemon/http/endpoint.hpp"
#include "daemon/http/event_parser.hpp"

using namespace takehold::daemon;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view input(reinterpret_cast<const char*>(data), size);
  const auto end = input.find('\n');
  const auto target = end == std::string_view::npos ? input : input.substr(end + 1);
  static_cast<void>(route_of(input.substr(0, end), target));
  if (const auto route = route_of("GET", target)) {
    static_cast<void>(
        readings_query(*route, takehold::sensors::Instant(std::chrono::hours(500'000))));
  }
  static_cast<void>(allowed_methods(target));
  static_cast<void>(Endpoint::parse(target));
  static_cast<void>(HttpAddress::parse(target));
  EventParser events;
  for (std::size_t at = 0; at < target.size(); at += 3) {
    static_cast<void>(events.feed(target.substr(at, 3)));
  }
  return 0;
}
