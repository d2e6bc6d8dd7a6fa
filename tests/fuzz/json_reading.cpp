// JSON of probes: fetched and read by pointers (the first two lines of the input), pushed to us,
// and our own.
#include <cstdlib>
#include <nlohmann/json.hpp>

#include "daemon/api/occupant_message.hpp"
#include "daemon/api/reading_message.hpp"
#include "sensors/codec/json_map.hpp"

using namespace takehold;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string input(reinterpret_cast<const char*>(data), size);
  static_cast<void>(daemon::pushed_readings_from(input));
  static_cast<void>(daemon::occupant_body_from(input));
  const auto document = nlohmann::json::parse(input, nullptr, false);
  if (!document.is_discarded()) static_cast<void>(daemon::reading_message_from(document));
  const auto first = input.find('\n');
  const auto second = first == std::string::npos ? first : input.find('\n', first + 1);
  if (second == std::string::npos) return 0;
  sensors::JsonMap map{input.substr(0, first), input.substr(first + 1, second - first - 1)};
  if (!sensors::check(map)) return 0;
  const auto decoded = sensors::decode_json(map, std::string_view(input).substr(second + 1));
  if (decoded && decoded->is_empty()) std::abort();
  return 0;
}
