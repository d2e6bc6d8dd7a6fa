#include "daemon/api/status_message.hpp"

#include <nlohmann/json.hpp>

#include "daemon/api/message_fields.hpp"
#include "daemon/api/quantity_json.hpp"
#include "daemon/healing/regime_json.hpp"

namespace takehold::daemon {
namespace {

using nlohmann::json;
using sensors::Celsius;
using sensors::Pressure;
using sensors::RelativeHumidity;

json air_json(const AirMessage& air) {
  return {{"at", json_of(air.at)},
          {"temperature_degc", json_of(air.temperature)},
          {"humidity_pct", json_of(air.humidity)},
          {"vapour_pressure_kpa", json_of(air.vapour_pressure)},
          {"vapour_pressure_deficit_kpa", json_of(air.vapour_deficit)},
          {"dew_point_degc", json_of(air.dew_point)},
          {"leaf_temperature_degc", json_of(air.extras.leaf_temperature)},
          {"leaf_vapour_pressure_deficit_kpa", json_of(air.leaf_vapour_deficit)},
          {"co2_ppm", json_of(air.extras.co2)},
          {"light_umol", json_of(air.extras.light)}};
}

AirMessage air_from(const JsonObject& object) {
  return {object.instant("at"),
          quantity_from<Celsius>(object, "temperature_degc"),
          quantity_from<RelativeHumidity>(object, "humidity_pct"),
          quantity_from<Pressure>(object, "vapour_pressure_kpa"),
          quantity_from<Pressure>(object, "vapour_pressure_deficit_kpa"),
          quantity_from<Celsius>(object, "dew_point_degc"),
          {quantity_from<Celsius>(object, "leaf_temperature_degc"),
           quantity_from<sensors::CarbonDioxide>(object, "co2_ppm"),
           quantity_from<sensors::PhotonFlux>(object, "light_umol")},
          quantity_from<Pressure>(object, "leaf_vapour_pressure_deficit_kpa")};
}

json log_json(const LogMessage& log) {
  return {{"written", log.written},
          {"since_at", json_of(log.since)},
          {"error", json_of(log.error)},
          {"waiting", log.waiting},
          {"given_up", log.given_up}};
}

LogMessage log_from(const JsonObject& object) {
  return {object.flag("written").value_or(true), object.instant("since_at"), object.text("error"),
          object.whole("waiting").value_or(0), object.whole("given_up").value_or(0)};
}

json probe_json(const ProbeMessage& probe) {
  json out = {{"name", probe.name}, {"place", probe.place}, {"kind", probe.kind}};
  out["last"] = probe.last ? json(*probe.last) : json(nullptr);
  const auto day = [](const auto& on) {
    return on ? json(sensors::to_string(*on)) : json(nullptr);
  };
  out["calibrated_on"] = day(probe.calibrated_on);
  out["calibration_due_on"] = day(probe.calibration_due_on);
  return out;
}

ProbeMessage probe_from(const JsonObject& object) {
  ProbeMessage probe{object.need_text("name"),         object.text("place").value_or("chamber"),
                     object.text("kind").value_or(""), std::nullopt,
                     object.day("calibrated_on"),      object.day("calibration_due_on")};
  if (const json* last = object.value("last")) {
    const auto reading = reading_message_from(*last);
    if (reading) {
      probe.last = *reading;
    } else {
      object.refuse("last", reading.error());
    }
  }
  return probe;
}

StatusMessage status_fields(const JsonObject& object) {
  StatusMessage message;
  message.program = object.need_text("program");
  message.interface = static_cast<int>(object.need_whole("interface"));
  message.schema = static_cast<int>(object.whole("schema").value_or(0));
  message.at = object.need_instant("at");
  message.started_at = object.instant("started_at").value_or(message.at);
  message.chamber = object.text("chamber").value_or("");
  message.row = object.whole("row").value_or(0);
  if (const auto log = object.object("log")) message.log = log_from(*log);
  if (const auto air = object.object("air")) message.air = air_from(*air);
  if (const auto asks = object.object("asks")) message.asks = asks_from(*asks);
  message.kept = object.flag("kept").value_or(false);
  for (const auto& one : object.objects("probes")) message.probes.push_back(probe_from(one));
  for (const auto& one : object.objects("occupants")) {
    message.occupants.push_back(occupant_fields(one));
  }
  for (const auto& one : object.objects("warnings")) {
    message.warnings.push_back(warning_fields(one));
  }
  return message;
}

}  // namespace

void to_json(json& out, const StatusMessage& message) {
  out = {{"program", message.program},
         {"interface", message.interface},
         {"schema", message.schema},
         {"at", sensors::to_string(message.at)},
         {"started_at", sensors::to_string(message.started_at)},
         {"chamber", message.chamber},
         {"row", message.row},
         {"log", log_json(message.log)},
         {"air", air_json(message.air)},
         {"kept", message.kept},
         {"probes", json::array()}};
  out["asks"] = message.asks;
  for (const auto& probe : message.probes) out["probes"].push_back(probe_json(probe));
  out["occupants"] = message.occupants;
  out["warnings"] = message.warnings;
}

sensors::Result<StatusMessage> status_message_from(const json& value) {
  return read_message<StatusMessage>(value, status_fields);
}

}  // namespace takehold::daemon
