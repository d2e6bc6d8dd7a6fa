// The seed there is to sow from, and what each plan takes out of it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "client/plan/lot_seasons.hpp"
#include "client/plan/season_plan.hpp"

namespace takehold::client {

/// One lot, or seed of a variety that is still to be bought.
struct SeedSource {
  std::optional<std::string> lot{};  ///< nothing: to be bought
  std::string variety{};
  std::optional<int> year{};
  LotKnowledge known{};
  int tested = 0;         ///< seeds of it, in germination tests
  double price_each = 0;  ///< assumed when the lot names none
  bool price_is_known = false;
  std::optional<Lot> record{};  ///< of a lot that exists
  int on_hand = 0;
  int needed = 0;  ///< all plans together, for their confidence

  bool is_short() const { return lot.has_value() && needed > on_hand; }
};

/// All sources of a request. Indices stay valid.
class SeedBox {
 public:
  explicit SeedBox(const PlanRequest& request);

  /// Where a variety's seed may come from: the lot named, else its lots, the oldest first, else one
  /// source to be bought. Never empty. Throws Refused "unknown-lot" or "unknown-variety".
  std::vector<std::size_t> sources_of(const std::string& variety,
                                      const std::optional<std::string>& named);
  const Variety& variety(const std::string& name) const;

  std::optional<std::size_t> source_of_lot(const std::string& label) const;
  /// What is believed of its seed, for simulated seasons.
  LotBelief belief(std::size_t index) const;

  const SeedSource& at(std::size_t index) const { return sources_[index]; }
  std::size_t size() const { return sources_.size(); }
  int left(std::size_t index) const;  ///< on hand and not yet needed; plenty when to be bought
  void need(std::size_t index, int seeds) { sources_[index].needed += seeds; }

 private:
  std::vector<Variety> varieties_;
  std::vector<SeedSource> sources_;
};

}  // namespace takehold::client
