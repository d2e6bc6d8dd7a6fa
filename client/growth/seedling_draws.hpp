// The seedlings of one sowing as they may be, given what was seen of them and what their lot is.
#pragma once

#include <optional>
#include <vector>

#include "client/growth/keyed_random.hpp"
#include "client/growth/lot_posterior.hpp"

namespace takehold::client {

/// One seedling of a simulated season.
struct DrawnSeedling {
  double progress = 0;  ///< towards emergence, at which it is up: e z (see Course)
  double ln_size = 0;   ///< ln s: thicker or thinner than its lot at its age
};

/// What became of a sowing's seedlings beside what SowingSeen says.
struct TrayState {
  std::optional<int> standing{};  ///< plants there now; nothing: never counted
  std::vector<int> gone{};        ///< measured ones that no longer stand: grafted, lost
};

/// Draws a sowing's living seedlings, those still to come up among them. Measured ones are drawn
/// given their own readings; counted ones given between which counts they came up; the others from
/// their lot. Borrows the record.
class SeedlingDraws {
 public:
  SeedlingDraws(const SowingSeen& sowing, Species species, TrayState state);

  /// Appends one season's seedlings. `random` is this season's and sowing's own.
  void draw(const LotDraw& lot, const RandomStream& random, std::vector<DrawnSeedling>& into) const;

 private:
  /// Calls to `random` one after the other.
  struct Dice {
    const RandomStream& random;
    std::uint64_t next = 0;
    double uniform() { return random.uniform(next++); }
    double normal() { return random.normal(next++); }
  };
  void draw_measured(const LotDraw& lot, int most, Dice& dice,
                     std::vector<DrawnSeedling>& into) const;
  void draw_counted(const LotDraw& lot, int plants, Dice& dice,
                    std::vector<DrawnSeedling>& into) const;
  void draw_to_come(const LotDraw& lot, int seeds, Dice& dice,
                    std::vector<DrawnSeedling>& into) const;
  DrawnSeedling seedling(const LotDraw& lot, double from, double to, Dice& dice) const;
  double share_up(const LotDraw& lot, std::optional<Age> at) const;

  const SowingSeen& sowing_;
  double spread_;
  std::optional<int> standing_;
  std::vector<const SeedlingSeen*> measured_{};  // that stand
};

}  // namespace takehold::client
