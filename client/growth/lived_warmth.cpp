#include "client/growth/lived_warmth.hpp"

namespace takehold::client {

LivedWarmth lived_warmth(const std::vector<Stay>& stays, sensors::Instant sown,
                         sensors::Instant now, std::chrono::days length,
                         const sensors::TimeZone& zone) {
  using std::chrono::hours;
  LivedWarmth lived;
  std::size_t stay = 0;
  for (int i = 0; i < 24 * length.count(); ++i) {
    const sensors::Instant middle = sown + hours(i) + std::chrono::minutes(30);
    while (stay + 1 < stays.size() && stays[stay + 1].from <= middle) ++stay;
    const Stay& here = stays[stay];
    const auto clock = std::chrono::floor<hours>(zone.wall_time(middle)).count();
    lived.hourly.push_back(here.bench.mean_of_hour(static_cast<int>(clock)));
    if (middle >= now) continue;
    ++lived.past_hours;
    if (here.logged.empty()) continue;
    const auto logged =
        here.logged.find(std::chrono::floor<hours>(middle.time_since_epoch()).count());
    if (logged == here.logged.end()) {
      ++lived.missing_hours;
    } else {
      ++lived.logged_hours;
      lived.hourly.back() = logged->second;
    }
  }
  return lived;
}

}  // namespace takehold::client
