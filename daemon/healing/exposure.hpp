// What a batch went through: how long, how far and for how long on end the air lay outside what
// each stage asked of the chamber.
//
// Between two looks at the air no more than five minutes apart the air is taken to have changed
// evenly; a longer gap counts as not observed and is never bridged. Everything is weighted by time,
// never by the number of readings. A limit itself is inside. No I/O, no clock.
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <vector>

#include "daemon/healing/asks.hpp"
#include "daemon/healing/regime.hpp"

namespace takehold::daemon {

using Hours = std::chrono::duration<double, std::ratio<3600>>;

/// A gap longer than this is not observed.
inline constexpr std::chrono::milliseconds kLongestBridged = std::chrono::minutes(5);

/// One side of one band. `degree_hours` of a temperature; `kpa_hours` of humidity and of the vapour
/// pressure deficit: of humidity the water that the air lacked (or had too much of) at its own
/// temperature, and only where that was known.
struct Beyond {
  Hours time{0};
  double amount_hours = 0;  ///< degC·h or kPa·h
  Hours longest{0};         ///< the longest spell on end; a gap and the stage's end cut it
};

struct BandExposure {
  Hours observed{0};
  Beyond below;
  Beyond above;
};

/// One stage as it was lived through; a stage begun again appears again.
struct StageExposure {
  std::string stage;  ///< its name, or "done"
  sensors::Instant since;
  sensors::Instant until;
  double observed = 0;  ///< share of its time, 0..1, in which all that it asks for was known
  std::optional<BandExposure> temperature;  ///< null: no such band was asked for
  std::optional<BandExposure> humidity;
  std::optional<BandExposure> vapour_deficit;

  Hours length() const { return until - since; }
};

struct Exposure {
  std::optional<double> observed;  ///< share of the whole time; null: no time has passed
  std::vector<StageExposure> stages;
};

/// Gathers the exposure of one batch while the air is told to it, in order of time. Memory does not
/// grow with the number of looks.
class ExposureCounter {
 public:
  /// Of [entered_at, until). `regime` and `events` must outlive it. Bands are those that the
  /// chamber had to hold (a stage that stands on the bench keeps the chamber's last).
  ExposureCounter(const Regime& regime, sensors::Instant entered_at,
                  const std::vector<ManualEvent>& events, sensors::Instant until);
  ~ExposureCounter();

  /// The chamber's air at `at`. Looks up to five minutes before entering and after `until` help to
  /// draw the ends.
  void see(sensors::Instant at, std::optional<sensors::Celsius> temperature,
           std::optional<sensors::RelativeHumidity> humidity);
  Exposure result() const;

 private:
  enum Quantity { kTemperature, kHumidity, kDeficit, kQuantities };
  /// One quantity at one moment; `scale` turns what lies beyond a limit into degC or kPa.
  struct Point {
    sensors::Instant at;
    double value = 0;
    double scale = 1;
  };
  struct Tally;
  struct Span;

  void begin_spans(sensors::Instant until);
  Asks asks_at(const Span& span, sensors::Instant at) const;
  void look(Quantity quantity, const Point& point);
  void count(Span& span, Quantity quantity, const Point& from, const Point& to);

  const Regime& regime_;
  const std::vector<ManualEvent>& events_;
  sensors::Instant entered_at_;
  std::vector<Span> spans_;
  std::optional<Point> last_[kQuantities];
  std::size_t first_open_[kQuantities] = {};  ///< spans before it are over
};

}  // namespace takehold::daemon
