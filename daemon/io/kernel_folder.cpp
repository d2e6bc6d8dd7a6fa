#include "daemon/io/kernel_folder.hpp"

#include <glob.h>

#include <fstream>

#include "sensors/codec/told.hpp"

namespace takehold::daemon {

using sensors::Problem;
using sensors::Result;
using sensors::Told;

namespace {

constexpr double kThousandths = 0.001;
constexpr double kPercentToPpm = 10'000.0;

/// `input` is whole already, `raw` has scale and offset beside it.
struct Known {
  Told told;
  const char* name;
  bool raw;
  double unit;  ///< what the kernel's unit is in ours
};

constexpr Known kKnown[] = {
    {Told::temperature, "in_temp", false, kThousandths},
    {Told::temperature, "in_temp", true, kThousandths},
    {Told::temperature, "temp1", false, kThousandths},
    {Told::humidity, "in_humidityrelative", false, kThousandths},
    {Told::humidity, "in_humidityrelative", true, kThousandths},
    {Told::humidity, "humidity1", false, kThousandths},
    {Told::co2, "in_concentration_co2", false, kPercentToPpm},
    {Told::co2, "in_concentration_co2", true, kPercentToPpm},
};

std::optional<double> number_in(const std::filesystem::path& file) {
  std::ifstream stream(file);
  std::string text;
  if (!std::getline(stream, text)) return std::nullopt;
  const auto number = sensors::parse_number(text);
  return number ? std::optional<double>(*number) : std::nullopt;
}

Result<std::filesystem::path> one_folder(const std::string& pattern) {
  glob_t found{};
  const int outcome = ::glob(pattern.c_str(), 0, nullptr, &found);
  const std::size_t count = outcome == 0 ? found.gl_pathc : 0;
  std::filesystem::path first = count > 0 ? found.gl_pathv[0] : "";
  ::globfree(&found);
  if (count == 0) return Problem{"no-folder", "there is no such folder", "", pattern, ""};
  if (count == 1) {
    return Result<std::filesystem::path>(boost::system::in_place_value, std::move(first));
  }
  return Problem{"many-folders", "this means more than one folder", std::to_string(count), pattern,
                 "name the sensor's bus address, as /sys/bus/i2c/devices/1-0040/iio:device*"};
}

}  // namespace

Result<ValueFiles> find_value_files(const std::string& pattern) {
  const auto folder = one_folder(pattern);
  if (!folder) return folder.error();
  ValueFiles files;
  for (const auto& known : kKnown) {
    auto& place = sensors::place_of(files, known.told);
    const std::string stem = (*folder / known.name).string();
    const std::filesystem::path file = stem + (known.raw ? "_raw" : "_input");
    std::error_code error;
    if (place || !std::filesystem::exists(file, error)) continue;
    place = ValueFile{file, known.unit, 0.0};
    if (!known.raw) continue;
    place->scale *= number_in(stem + "_scale").value_or(1.0);
    place->offset = number_in(stem + "_offset").value_or(0.0);
  }
  if (!sensors::tells_nothing(files)) return files;
  return Problem{"no-values", "no sensor's files are in this folder", "", folder->string(), ""};
}

}  // namespace takehold::daemon
