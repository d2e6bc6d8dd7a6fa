// When the stems of each pairing will match, how sure, and what would help.
#pragma once

#include <nlohmann/json_fwd.hpp>

#include "client/forecast/advice.hpp"
#include "client/forecast/forecast_request.hpp"
#include "client/plan/season_plan.hpp"

namespace takehold::client {

struct DayOutlook {
  Day on{};
  bool allowed = true;       ///< a day on which there is time to graft
  double matched_pairs = 0;  ///< expected
  double best = 0;           ///< chance of being the best day
  double rootstocks = 0;     ///< graftable stems expected
  double scions = 0;
};

/// Days that are exceeded 9, 5 and 1 times in 10 (see day_range).
struct DayOutlookRange {
  Day p10{}, p50{}, p90{};
};

struct PairingForecast {
  std::string id{}, scion{}, rootstock{};
  int want = 0;
  std::vector<std::string> rootstock_trays{}, scion_trays{};
  std::optional<DayOutlookRange> graft_on{};  ///< nothing where no stems will ever match
  double never = 0;                           ///< chance that no day has a pair
  CountOutlook matched_pairs{};               ///< on the best day
  std::vector<DayOutlook> by_day{};           ///< from today to the last day that may have a pair
  Day last_on{};                              ///< grafted later they are not ready in time
  CountOutlook finished{};                    ///< in time, of all that are grafted
  double probability = 0;                     ///< of `want` finished in time
  double useful = 0;                          ///< finished in time, at most `want` counted
  std::optional<Day> planned_on{};
  std::optional<double> promised{};
  std::vector<Advice> advice{};
};

/// How a forecast is worked out.
struct ForecastWork {
  bool advice = true;  ///< look for what would help: takes some ten times as long
};

/// One forecast a pairing, in their order. Every season is grafted on its own best day: it assumes
/// that the grower sees the day. The same request, the same forecast.
std::vector<PairingForecast> forecast(const ForecastRequest& request,
                                      const ForecastWork& work = {});

/// `graft_on by_day matched_pairs advice ...` of the contract.
void to_json(nlohmann::json& json, const PairingForecast& forecast);

}  // namespace takehold::client
