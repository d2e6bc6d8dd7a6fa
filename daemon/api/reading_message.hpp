// Readings on the wire: as they are polled, as they are pushed, and gathered in buckets for a
// chart.
#pragma once

#include <chrono>
#include <cstdint>
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <vector>

#include "daemon/api/problem_document.hpp"
#include "sensors/quantity/reading.hpp"

namespace takehold::daemon {

/// One reading: `{probe, at, temperature_degc, humidity_pct, leaf_temperature_degc, co2_ppm,
/// light_umol, quality, error}`. A line of --once and an event of /v1/live.
struct ReadingMessage {
  std::string probe;
  sensors::Instant at;
  std::optional<sensors::Celsius> temperature;
  std::optional<sensors::RelativeHumidity> humidity;
  sensors::Quality quality = sensors::Quality::none;
  std::optional<std::string> error;  ///< why there is none, or why it is not good
  sensors::Extras extras = {};
};

ReadingMessage reading_message(const sensors::Reading& reading);
void to_json(nlohmann::json& json, const ReadingMessage& message);
sensors::Result<ReadingMessage> reading_message_from(const nlohmann::json& json);

/// What a probe pushes: `{probe, at?, temperature_degc?, humidity_pct?, leaf_temperature_degc?,
/// co2_ppm?, light_umol?}`, at least one value.
struct PushedReading {
  std::string probe;
  std::optional<sensors::Instant> at;  ///< none: when it arrives
  std::optional<sensors::Celsius> temperature;
  std::optional<sensors::RelativeHumidity> humidity;
  sensors::Extras extras = {};
};
inline constexpr std::size_t kMostPushed = 1000;

/// One, or a list of at most kMostPushed. 400 "bad-json", 422 for what is wrong in it.
ApiResult<std::vector<PushedReading>> pushed_readings_from(const std::string& body);

struct PushedMessage {
  std::int64_t accepted = 0;
  std::int64_t ignored = 0;  ///< known already
};
void to_json(nlohmann::json& json, const PushedMessage& message);

/// A span of time summed up: `{mean, min, max}`.
template <class Q>
struct Spread {
  Q mean, min, max;
};

struct ReadingBucket {
  sensors::Instant at;                                  ///< its begin
  std::optional<Spread<sensors::Celsius>> temperature;  ///< null: no good reading in it, a gap
  std::optional<Spread<sensors::RelativeHumidity>> humidity;
  std::optional<Spread<sensors::Celsius>> leaf_temperature = std::nullopt;
  std::optional<Spread<sensors::CarbonDioxide>> co2 = std::nullopt;
  std::optional<Spread<sensors::PhotonFlux>> light = std::nullopt;
};

struct ProbeBuckets {
  std::string probe;
  std::vector<ReadingBucket> buckets;
};

/// `{from, to, step_s, probes:[{probe, buckets:[{at, temperature_degc, humidity_pct,
/// leaf_temperature_degc, co2_ppm, light_umol}]}]}`
struct ReadingsMessage {
  sensors::Instant from, to;
  std::chrono::milliseconds step{0};
  std::vector<ProbeBuckets> probes;
};
/// As JSON, written at once: as a tree of 16 000 buckets it would take ten times the memory and
/// time.
std::string readings_text(const ReadingsMessage& message);
sensors::Result<ReadingsMessage> readings_message_from(const nlohmann::json& json);

}  // namespace takehold::daemon
