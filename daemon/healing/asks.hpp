// What the air should be: for one batch, and for several that share a chamber.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "daemon/healing/stage_at.hpp"

namespace takehold::daemon {

/// What a stage asks for at one moment. What is not asked for is null.
struct Asks {
  std::optional<Band<sensors::Celsius>> temperature;
  std::optional<Band<sensors::RelativeHumidity>> humidity;
  std::optional<Band<sensors::Pressure>> vapour_deficit;
  std::optional<Band<sensors::PhotonFlux>> light;
  std::vector<std::string> tasks;

  friend bool operator==(const Asks&, const Asks&) = default;
};

/// What the present stage asks for, wherever it stands. Once all is over: nothing.
Asks asks_of(const Regime& regime, const StageNow& now);

/// What the chamber must hold for a batch that still stands in it.
struct ChamberAsks {
  Asks asks;
  /// The batch's stage stands on the bench by now, or all is over: these are the last asks of its
  /// last chamber stage, kept until it is moved. Tasks are left out.
  bool kept = false;
};
ChamberAsks chamber_asks(const Regime& regime, const StageNow& now);

struct BatchAsks {
  std::string label;
  sensors::Instant entered_at;
  Asks asks;
};

/// A band that several batches share, and where inside it to aim.
template <class Q>
struct SharedBand {
  Band<Q> band;
  Q aim;  ///< of the band's points the nearest to the middle of the youngest's own band
};

/// Two batches whose bands do not meet; the younger's counts.
struct AskConflict {
  std::string about;  ///< "temperature", "humidity", "vapour_deficit" or "light"
  std::string younger;
  std::string older;

  friend bool operator==(const AskConflict&, const AskConflict&) = default;
};

struct SharedAsks {
  std::optional<SharedBand<sensors::Celsius>> temperature;
  std::optional<SharedBand<sensors::RelativeHumidity>> humidity;
  std::optional<SharedBand<sensors::Pressure>> vapour_deficit;
  std::optional<SharedBand<sensors::PhotonFlux>> light;
  std::vector<AskConflict> conflicts;
};

/// The overlap of all bands. Batches are taken from the youngest to the oldest (of one age: by
/// label); one whose band does not meet the overlap so far is left out of it and named in
/// `conflicts` with the youngest it collides with. Bands that only touch in one point do not meet:
/// no chamber holds a point.
SharedAsks shared_asks(std::span<const BatchAsks> batches);

}  // namespace takehold::daemon
