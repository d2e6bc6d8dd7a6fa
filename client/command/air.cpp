#include "client/command/air.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "client/command/command_tree.hpp"
#include "client/terminal/table.hpp"
#include "sensors/air/psychrometer.hpp"

namespace takehold::client {
namespace {

using sensors::Celsius;

// A good cheap probe's data sheet: what the printed digits may promise.
constexpr sensors::ProbeError kUsualProbe{sensors::TemperatureSpan::kelvin(0.3),
                                          sensors::RelativeHumidity::pct(2.0)};

void check_range(Celsius temperature, const char* what) {
  if (temperature.degc() >= -40.0 && temperature.degc() <= 100.0) return;
  throw sensors::Refused({"out-of-range", fixed(temperature.degc(), 1) + " °C is no air we know of",
                          "the formulas hold from -40 to 100 °C", what, ""});
}

std::string kpa(sensors::Pressure pressure, int decimals) {
  return fixed(pressure.kpa(), decimals) + " kPa";
}

void print(const AirAnswer& answer, Context& context) {
  const auto& [asked, pressure, air, leaf_deficit] = answer;
  const auto error = sensors::deficit_error(asked.temperature, asked.humidity, kUsualProbe);
  const int decimals = sensors::earned_decimals_kpa(error);
  Output& out = context.out;
  out.line(fmt::format("Air at {} and {}, under {}", shown(asked.temperature, context.units),
                       shown(asked.humidity), kpa(pressure, 1)));
  Table table({{""}, {"", Align::decimal}, {""}});
  table.add({"vapour pressure deficit", kpa(air.deficit, decimals),
             "how hard the air pulls at leaves; give or take " + kpa(error, decimals) +
                 " with a probe good to 2 %"});
  if (leaf_deficit) {
    const bool wet = sensors::water_condenses(*leaf_deficit);
    table.add({"at the leaf", kpa(*leaf_deficit, decimals),
               wet ? "below zero: water condenses on the leaf" : ""});
  }
  table.add({"vapour pressure", kpa(air.vapour, 3), ""});
  table.add({"saturated it would be", kpa(air.saturation, 3), ""});
  table.add({"dew point", air.dew_point ? shown(*air.dew_point, context.units) : "none",
             "a surface this cold gets wet"});
  table.add({"water", fixed(air.absolute_humidity.g_per_m3(), 1) + " g/m³",
             fixed(air.humidity_ratio.g_per_kg(), 1) + " g in each kg of dry air"});
  out.text(table.text(out.style()));
}

struct Typed {
  std::string temperature, humidity;
  std::optional<std::string> leaf, altitude;
};

AirQuestion question_of(const Typed& words, Units units) {
  AirQuestion question{typed(parse_temperature(words.temperature, units, "--temperature")),
                       typed(parse_humidity(words.humidity, "--humidity")), std::nullopt,
                       std::nullopt};
  if (words.leaf) question.leaf = typed(parse_temperature(*words.leaf, units, "--leaf"));
  if (words.altitude) {
    question.altitude = typed(parse_altitude(*words.altitude, units, "--altitude"));
  }
  return question;
}

}  // namespace

AirAnswer air(const AirQuestion& question) {
  check_range(question.temperature, "--temperature");
  if (question.leaf) check_range(*question.leaf, "--leaf");
  const auto pressure =
      question.altitude ? sensors::pressure_at(*question.altitude) : sensors::kStandardPressure;
  const auto saturation = sensors::saturation_vapour_pressure(question.temperature);
  if (saturation >= pressure) {
    throw sensors::Refused({"out-of-range", "water boils there", "", "--temperature", ""});
  }
  AirAnswer answer{question, pressure,
                   sensors::state_of_air(question.temperature, question.humidity, pressure),
                   std::nullopt};
  if (question.leaf) {
    answer.leaf_deficit = sensors::leaf_vapour_pressure_deficit(
        *question.leaf, question.temperature, question.humidity);
  }
  return answer;
}

nlohmann::json to_json(const AirAnswer& answer) {
  const auto& [asked, pressure, air, leaf_deficit] = answer;
  nlohmann::json document{{"temperature_degc", asked.temperature.degc()},
                          {"humidity_pct", asked.humidity.pct()},
                          {"pressure_kpa", pressure.kpa()},
                          {"saturation_vapour_pressure_kpa", air.saturation.kpa()},
                          {"vapour_pressure_kpa", air.vapour.kpa()},
                          {"vapour_pressure_deficit_kpa", air.deficit.kpa()},
                          {"dew_point_degc", nullptr},
                          {"humidity_ratio_g_per_kg", air.humidity_ratio.g_per_kg()},
                          {"absolute_humidity_g_per_m3", air.absolute_humidity.g_per_m3()},
                          {"leaf_temperature_degc", nullptr},
                          {"leaf_vapour_pressure_deficit_kpa", nullptr}};
  if (air.dew_point) document["dew_point_degc"] = air.dew_point->degc();
  if (asked.leaf) document["leaf_temperature_degc"] = asked.leaf->degc();
  if (leaf_deficit) document["leaf_vapour_pressure_deficit_kpa"] = leaf_deficit->kpa();
  return document;
}

void add_air(CommandTree& line) {
  CLI::App& app = line.command(
      "air",
      {kTheChamber, "what this air is: how hard it pulls at leaves, its dew point, its water",
       "The same relative humidity pulls harder in warm air than in cool air; what wilts a\n"
       "graft is the vapour pressure deficit. A leaf colder than the dew point gets wet.",
       "air --temperature 24C --humidity 90 --leaf 23\n"
       "air --temperature 75F --humidity 95 --altitude 650m"});
  const auto words = std::make_shared<Typed>();
  app.add_option("--temperature", words->temperature, "of the air: 24, 24C or 75F")->required();
  app.add_option("--humidity", words->humidity, "relative, in percent")->required();
  app.add_option("--leaf", words->leaf, "temperature of the leaf");
  app.add_option("--altitude", words->altitude, "height above the sea: 650, 650m or 2100ft");
  line.action(app, [words](Context& context) {
    const AirAnswer answer = air(question_of(*words, context.units));
    print(answer, context);
    context.out.document(to_json(answer));
  });
}

}  // namespace takehold::client
