// The seedlings of all trays in every simulated season.
#pragma once

#include <span>
#include <vector>

#include "client/forecast/forecast_request.hpp"

namespace takehold::client {

/// Draws are keyed by season, lot and tray: another tray changes none of the others. Lots come from
/// the joint posterior, seedlings given what was seen of them. Warmth to come plays no part yet.
class DrawnTrays {
 public:
  explicit DrawnTrays(const ForecastRequest& request);

  /// One tray more, of a lot that is there already.
  void add(const ForecastRequest& request, const ForecastTray& tray);

  int seasons() const { return seasons_; }
  std::span<const DrawnSeedling> in(int season, std::size_t tray) const;
  double vigour(int season, std::size_t tray) const {
    return vigour_[lot_of_[tray]][static_cast<std::size_t>(season)];
  }

 private:
  struct Tray {
    std::vector<DrawnSeedling> seedlings{};
    std::vector<std::size_t> begins{0};
  };
  void draw_lot(const ForecastLot& lot);

  int seasons_;
  KeyedRandom random_;
  std::vector<std::vector<LotDraw>> lots_{};
  std::vector<std::vector<double>> vigour_{};
  std::vector<std::size_t> lot_of_{};
  std::vector<Tray> trays_{};
};

}  // namespace takehold::client
