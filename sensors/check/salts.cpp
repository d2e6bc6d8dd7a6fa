#include "sensors/check/salts.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cctype>

namespace takehold::sensors {
namespace {

constexpr double kColdest = 15.0;
constexpr double kStep = 5.0;
constexpr std::size_t kTemperatures = 4;

struct Row {
  Salt salt;
  std::array<double, kTemperatures> pct;
  std::array<double, kTemperatures> uncertainty;
};

constexpr std::array<Row, 7> kRows = {{
    {{"LiCl", "lithium chloride"}, {11.30, 11.31, 11.30, 11.28}, {0.35, 0.31, 0.27, 0.24}},
    {{"MgCl2", "magnesium chloride"}, {33.30, 33.07, 32.78, 32.44}, {0.21, 0.18, 0.16, 0.14}},
    {{"K2CO3", "potassium carbonate"}, {43.15, 43.16, 43.16, 43.17}, {0.33, 0.33, 0.39, 0.50}},
    {{"NaBr", "sodium bromide"}, {60.68, 59.14, 57.57, 56.03}, {0.51, 0.44, 0.40, 0.38}},
    {{"NaCl", "sodium chloride"}, {75.61, 75.47, 75.29, 75.09}, {0.18, 0.14, 0.12, 0.11}},
    {{"KCl", "potassium chloride"}, {85.92, 85.11, 84.34, 83.62}, {0.33, 0.29, 0.26, 0.25}},
    {{"K2SO4", "potassium sulfate"}, {97.89, 97.59, 97.30, 97.00}, {0.63, 0.53, 0.45, 0.40}},
}};

constexpr std::array<Salt, kRows.size()> kSalts = [] {
  std::array<Salt, kRows.size()> salts{};
  for (std::size_t i = 0; i < kRows.size(); ++i) salts[i] = kRows[i].salt;
  return salts;
}();

bool same_letters(std::string_view a, std::string_view b) {
  const auto lower = [](char c) { return std::tolower(static_cast<unsigned char>(c)); };
  return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                    [&](char x, char y) { return lower(x) == lower(y); });
}

}  // namespace

std::span<const Salt> all_salts() {
  return kSalts;
}

Result<Salt> find_salt(std::string_view text) {
  std::string known;
  for (const auto& salt : kSalts) {
    if (same_letters(text, salt.formula) || same_letters(text, salt.name)) return salt;
    known += (known.empty() ? "" : " ") + std::string(salt.formula);
  }
  return Problem{"unknown-salt", "no such salt in the table", "\"" + std::string(text) + "\"", "",
                 "one of " + known};
}

Result<FixedPoint> Salt::at(Celsius temperature) const {
  const auto row = std::find_if(kRows.begin(), kRows.end(),
                                [this](const Row& one) { return one.salt.formula == formula; });
  assert(row != kRows.end());
  const double place = (temperature.degc() - kColdest) / kStep;
  constexpr double kLast = double(kTemperatures - 1);
  if (!(place >= 0.0 && place <= kLast)) {
    return Problem{"outside-table", "the salts are known from 15 to 30 degC", "", "",
                   "calibrate at room temperature"};
  }
  const auto low = std::min<std::size_t>(std::size_t(place), kTemperatures - 2);
  const double share = place - double(low);
  const auto between = [&](const std::array<double, kTemperatures>& values) {
    return values[low] + share * (values[low + 1] - values[low]);
  };
  return FixedPoint{RelativeHumidity::pct(between(row->pct)),
                    RelativeHumidity::pct(between(row->uncertainty)),
                    (row->pct[low + 1] - row->pct[low]) / kStep};
}

}  // namespace takehold::sensors
