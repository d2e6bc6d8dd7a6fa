// Healing plans, as files and as they travel: what is read is written and read as the same.
#include <cstdlib>
#include <nlohmann/json.hpp>

#include "daemon/healing/regime_json.hpp"
#include "daemon/healing/regime_toml.hpp"
#include "daemon/healing/stage_at.hpp"

using namespace takehold;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string input(reinterpret_cast<const char*>(data), size);
  const auto regime = daemon::read_regime(input, "fuzz.toml");
  if (regime) {
    const auto text = daemon::regime_toml(*regime);
    const auto again = daemon::read_regime(text, "again.toml");
    if (!again || daemon::regime_toml(*again) != text) std::abort();
    const auto entered = sensors::Instant(std::chrono::hours(500'000));
    for (int hours = 0; hours < 400; hours += 7) {
      static_cast<void>(
          daemon::stage_at(*regime, entered, {}, entered + std::chrono::hours(hours)));
    }
  }
  const auto document = nlohmann::json::parse(input, nullptr, false);
  if (!document.is_discarded()) static_cast<void>(daemon::parse_regime_json(document));
  return 0;
}
