#include "daemon/api/reading_message.hpp"

#include <nlohmann/json.hpp>

#include "daemon/api/quantity_json.hpp"

namespace takehold::daemon {
namespace {

using nlohmann::json;
using sensors::Celsius;
using sensors::Quality;
using sensors::RelativeHumidity;

Quality quality_from(const JsonObject& object) {
  const auto text = object.need_text("quality");
  for (const auto quality : {Quality::good, Quality::suspect, Quality::bad, Quality::none}) {
    if (text == sensors::to_string(quality)) return quality;
  }
  object.refuse("quality", {"unknown-value", "unknown quality", text, "", ""});
  return Quality::none;
}

sensors::Extras extras_from(const JsonObject& object) {
  return {quantity_from<Celsius>(object, "leaf_temperature_degc"),
          quantity_from<sensors::CarbonDioxide>(object, "co2_ppm"),
          quantity_from<sensors::PhotonFlux>(object, "light_umol")};
}

PushedReading pushed_from(const JsonObject& object) {
  PushedReading reading{object.need_text("probe"), object.instant("at"),
                        quantity_from<Celsius>(object, "temperature_degc"),
                        quantity_from<RelativeHumidity>(object, "humidity_pct"),
                        extras_from(object)};
  if (!reading.temperature && !reading.humidity && !reading.extras.any()) {
    object.refuse("temperature_degc",
                  {"missing-field", "a reading needs a temperature or a humidity", "", "", ""});
  }
  return reading;
}

template <class Q>
std::optional<Spread<Q>> spread_from(const JsonObject& bucket, const char* key) {
  const auto object = bucket.object(key);
  if (!object) return std::nullopt;
  return Spread<Q>{quantity_of<Q>(object->need_number("mean")),
                   quantity_of<Q>(object->need_number("min")),
                   quantity_of<Q>(object->need_number("max"))};
}

ProbeBuckets buckets_from(const JsonObject& object) {
  ProbeBuckets probe{object.need_text("probe"), {}};
  for (const auto& bucket : object.objects("buckets")) {
    probe.buckets.push_back({bucket.need_instant("at"),
                             spread_from<Celsius>(bucket, "temperature_degc"),
                             spread_from<RelativeHumidity>(bucket, "humidity_pct"),
                             spread_from<Celsius>(bucket, "leaf_temperature_degc"),
                             spread_from<sensors::CarbonDioxide>(bucket, "co2_ppm"),
                             spread_from<sensors::PhotonFlux>(bucket, "light_umol")});
  }
  return probe;
}

}  // namespace

ReadingMessage reading_message(const sensors::Reading& reading) {
  return {reading.probe,   reading.at, reading.temperature, reading.humidity,
          reading.quality, {},         reading.extras};
}

void to_json(json& out, const ReadingMessage& message) {
  out = {{"probe", message.probe},
         {"at", sensors::to_string(message.at)},
         {"temperature_degc", json_of(message.temperature)},
         {"humidity_pct", json_of(message.humidity)},
         {"leaf_temperature_degc", json_of(message.extras.leaf_temperature)},
         {"co2_ppm", json_of(message.extras.co2)},
         {"light_umol", json_of(message.extras.light)},
         {"quality", sensors::to_string(message.quality)},
         {"error", json_of(message.error)}};
}

sensors::Result<ReadingMessage> reading_message_from(const json& value) {
  return read_message<ReadingMessage>(value, [](const JsonObject& object) {
    return ReadingMessage{object.need_text("probe"),
                          object.need_instant("at"),
                          quantity_from<Celsius>(object, "temperature_degc"),
                          quantity_from<RelativeHumidity>(object, "humidity_pct"),
                          quality_from(object),
                          object.text("error"),
                          extras_from(object)};
  });
}

ApiResult<std::vector<PushedReading>> pushed_readings_from(const std::string& body) {
  const json value = json::parse(body, nullptr, false);
  if (value.is_discarded()) {
    return ApiProblem{400, {"bad-json", "the body is no JSON", "", "", ""}};
  }
  std::vector<sensors::Problem> mistakes;
  std::vector<PushedReading> readings;
  if (!value.is_array()) {
    readings.push_back(pushed_from(JsonObject(value, mistakes)));
  } else if (value.size() > kMostPushed) {
    return ApiProblem{413, {"too-many", "at most 1000 readings at once", "", "", ""}};
  } else {
    for (std::size_t i = 0; i < value.size(); ++i) {
      readings.push_back(pushed_from(JsonObject(value[i], mistakes, "/" + std::to_string(i))));
    }
  }
  if (!mistakes.empty()) return ApiProblem{422, mistakes.front()};
  return readings;
}

void to_json(json& out, const PushedMessage& message) {
  out = {{"accepted", message.accepted}, {"ignored", message.ignored}};
}

sensors::Result<ReadingsMessage> readings_message_from(const json& value) {
  return read_message<ReadingsMessage>(value, [](const JsonObject& object) {
    ReadingsMessage message{object.need_instant("from"), object.need_instant("to"), {}, {}};
    message.step = std::chrono::milliseconds(
        static_cast<std::int64_t>(object.need_number("step_s") * 1000.0 + 0.5));
    for (const auto& probe : object.objects("probes"))
      message.probes.push_back(buckets_from(probe));
    return message;
  });
}

}  // namespace takehold::daemon
