// The watch over one quantity of the air: outside its band, on its way out, or crossing the band by
// its ordinary cycle.
//
// No I/O, no clock. One owner: Watch, which keeps one for each quantity a stage may ask for.
#pragma once

#include <cstdint>
#include <deque>
#include <optional>
#include <string>
#include <vector>

#include "daemon/watch/air_trends.hpp"
#include "daemon/watch/cause.hpp"
#include "daemon/watch/drift.hpp"
#include "daemon/watch/excursion.hpp"
#include "daemon/watch/grade.hpp"
#include "daemon/watch/warning_list.hpp"

namespace takehold::daemon {

/// One round's view of the quantity.
struct Look {
  Place place = Place::unknown;
  std::string value;  ///< "humidity 94.2 %, should be 95-100 %"
  std::optional<double>
      low{};  ///< of the band, in the quantity's unit of AirTrends; none: not asked
  std::optional<double> high{};
  bool disputed = false;  ///< all probes are suspect, and this is the worse of them
  /// Lately somebody was at the chamber: since when.
  std::optional<sensors::Instant> hasty_since{};
  bool recovering = false;               ///< and the air is not itself again
  std::string at_risk{};                 ///< which batches, for the text; may be empty
  std::chrono::milliseconds healing{0};  ///< of the youngest of them
};

class QuantityWatch {
 public:
  QuantityWatch(const char* about, AirQuantity quantity, std::chrono::milliseconds on_delay,
                std::chrono::milliseconds horizon);

  const char* about() const { return about_; }
  void resume(const Warning& warning);
  void see(sensors::Instant at, const Look& look, const AirTrends& air, WarningList& warnings,
           std::vector<Event>& events);
  /// When to look again, if no reading comes before.
  std::optional<sensors::Instant> due() const { return excursion_.due(); }

 private:
  /// Once outside the band, from leaving to coming back, and how far.
  struct Spell {
    bool below;
    sensors::Instant from, to;
    double furthest;
    bool aftermath;
    bool told;  ///< by a warning
  };
  struct Side {
    bool below;
    Drift drift;
    std::optional<std::int64_t> number;  ///< of the standing drift
    std::deque<Spell> spells;            ///< outside, however shortly, and by itself back again
  };
  struct Cycling {
    std::optional<std::int64_t> number;
    sensors::Instant last_spell{};
  };

  Trouble trouble(bool below) const;
  Side& side(bool below) { return below ? low_ : high_; }
  void judge_outside(sensors::Instant at, const Look& look, const AirTrends& air,
                     WarningList& warnings, std::vector<Event>& events);
  void raise_outside(sensors::Instant at, const Look& look, const AirTrends& air,
                     WarningList& warnings, std::vector<Event>& events);
  void judge_drift(Side& side, sensors::Instant at, const Look& look, const AirTrends& air,
                   WarningList& warnings, std::vector<Event>& events);
  void raise_drift(Side& side, sensors::Instant at, const Look& look, const AirTrends& air,
                   WarningList& warnings, std::vector<Event>& events);
  void regrade_drift(const Side& side, sensors::Instant at, const Look& look, const AirTrends& air,
                     WarningList& warnings) const;
  void note_spell(sensors::Instant at, const Look& look, const AirTrends& air);
  void keep_spell(const Spell& spell);
  void judge_full(sensors::Instant at, const Look& look, const AirTrends& air,
                  WarningList& warnings, std::vector<Event>& events);
  Place weighed(sensors::Instant at, const Look& look, const AirTrends& air);
  Depth depth(sensors::Instant at, const Look& look, const AirTrends& air) const;
  std::string cycle_hint(const Look& look) const;
  bool crosses_by_cycle(sensors::Instant at, const AirTrends& air) const;
  Prospect prospect(bool below, const Look& look, const AirTrends& air) const;

  const char* about_;
  AirQuantity quantity_;
  std::chrono::milliseconds horizon_;
  Excursion excursion_;
  std::optional<std::int64_t> number_;  ///< of the standing outside
  std::optional<Spell> spell_;          ///< the present one
  std::optional<sensors::Instant> pending_since_;
  Side low_;
  Side high_;
  Cycling cycling_;
  std::optional<std::int64_t> full_;  ///< of the standing warning of air full of water
  std::optional<sensors::Instant> full_since_;
  double fullest_ = 0;   ///< since then
  bool hushed_ = false;  ///< the excursion that stands is one of the cycle's
};

}  // namespace takehold::daemon
