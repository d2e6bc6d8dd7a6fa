#include "daemon/api/exposure_message.hpp"

#include <nlohmann/json.hpp>

#include "daemon/api/quantity_json.hpp"

namespace takehold::daemon {
namespace {

using nlohmann::json;

/// How an amount beyond a band is told, by quantity.
constexpr const char* kDegrees = "degc_h";
constexpr const char* kKilopascals = "kpa_h";

double share_of(const BandExposure& band, Hours length) {
  return length.count() > 0 ? band.observed / length : 0.0;
}

json band_json(const std::optional<BandExposure>& band, Hours length, const char* amount) {
  if (!band) return nullptr;
  return {{"observed", share_of(*band, length)},
          {"below_h", band->below.time.count()},
          {"longest_below_h", band->below.longest.count()},
          {std::string("below_") + amount, band->below.amount_hours},
          {"above_h", band->above.time.count()},
          {"longest_above_h", band->above.longest.count()},
          {std::string("above_") + amount, band->above.amount_hours}};
}

std::optional<BandExposure> band_from(const JsonObject& stage, const char* key, Hours length,
                                      const std::string& amount) {
  const auto object = stage.object(key);
  if (!object) return std::nullopt;
  BandExposure band;
  band.observed = length * object->need_number("observed");
  band.below = {Hours(object->need_number("below_h")),
                object->need_number(("below_" + amount).c_str()),
                Hours(object->need_number("longest_below_h"))};
  band.above = {Hours(object->need_number("above_h")),
                object->need_number(("above_" + amount).c_str()),
                Hours(object->need_number("longest_above_h"))};
  return band;
}

json stage_json(const StageExposure& stage) {
  return {
      {"stage", stage.stage},
      {"since_at", sensors::to_string(stage.since)},
      {"until_at", sensors::to_string(stage.until)},
      {"hours", stage.length().count()},
      {"observed", stage.observed},
      {"temperature", band_json(stage.temperature, stage.length(), kDegrees)},
      {"humidity", band_json(stage.humidity, stage.length(), kKilopascals)},
      {"vapour_pressure_deficit", band_json(stage.vapour_deficit, stage.length(), kKilopascals)}};
}

StageExposure stage_from(const JsonObject& object) {
  StageExposure stage;
  stage.stage = object.need_text("stage");
  stage.since = object.need_instant("since_at");
  stage.until = object.need_instant("until_at");
  stage.observed = object.need_number("observed");
  stage.temperature = band_from(object, "temperature", stage.length(), kDegrees);
  stage.humidity = band_from(object, "humidity", stage.length(), kKilopascals);
  stage.vapour_deficit = band_from(object, "vapour_pressure_deficit", stage.length(), kKilopascals);
  return stage;
}

}  // namespace

void to_json(json& out, const ExposureMessage& message) {
  json stages = json::array();
  for (const auto& stage : message.exposure.stages) stages.push_back(stage_json(stage));
  const auto& observed = message.exposure.observed;
  out = {{"label", message.label},
         {"book", json_of(message.book)},
         {"revision", json_of(message.revision)},
         {"regime", message.regime},
         {"entered_at", sensors::to_string(message.entered_at)},
         {"left_at", json_of(message.left_at)},
         {"until_at", sensors::to_string(message.until)},
         {"observed", observed ? json(*observed) : json(nullptr)},
         {"stages", std::move(stages)}};
}

sensors::Result<ExposureMessage> exposure_message_from(const json& value) {
  return read_message<ExposureMessage>(value, [](const JsonObject& object) {
    ExposureMessage message;
    message.label = object.need_text("label");
    message.book = object.text("book");
    message.revision = object.whole("revision");
    message.regime = object.need_text("regime");
    message.entered_at = object.need_instant("entered_at");
    message.left_at = object.instant("left_at");
    message.until = object.need_instant("until_at");
    message.exposure.observed = object.number("observed");
    for (const auto& stage : object.objects("stages")) {
      message.exposure.stages.push_back(stage_from(stage));
    }
    return message;
  });
}

}  // namespace takehold::daemon
