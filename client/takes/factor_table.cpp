#include "client/takes/factor_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

namespace takehold::client {
namespace {

constexpr int kApart = 5;  // grafts of a level that is compared by itself
constexpr const char* kOthers = "others";

struct NumberFactor {
  Factor factor;
  std::optional<double> Sample::*value;
  const char* of;
};
constexpr NumberFactor kNumbers[] = {
    {Factor::mismatch, &Sample::mismatch, "0.1 mm more mismatch"},
    {Factor::outside, &Sample::outside, "an hour more outside the band in the first 3 days"},
    {Factor::darkness, &Sample::darkness, "a day more in the dark"}};

const NumberFactor* number_of(Factor factor) {
  for (const NumberFactor& number : kNumbers) {
    if (number.factor == factor) return &number;
  }
  return nullptr;
}

std::string level_of(Factor factor, const Sample& sample) {
  return factor == Factor::method ? std::string(to_text(sample.method)) : sample.by;
}

std::vector<FactorColumn> number_column(const NumberFactor& number,
                                        std::span<const Sample> samples) {
  double grafts = 0, sum = 0, square = 0;
  for (const Sample& s : samples) {
    grafts += s.tally.tried;
    sum += s.tally.tried * *(s.*number.value);
  }
  const double mean = grafts > 0 ? sum / grafts : 0;
  for (const Sample& s : samples) {
    square += s.tally.tried * std::pow(*(s.*number.value) - mean, 2);
  }
  const double sd = grafts > 0 ? std::sqrt(square / grafts) : 0;
  if (sd < 1e-9) return {};
  return {{number.factor, number.of, "", mean, 2 * sd, mean}};
}

std::vector<FactorColumn> level_columns(Factor factor, std::span<const Sample> samples) {
  std::map<std::string, int> grafts;
  int all = 0;
  for (const Sample& s : samples) {
    grafts[level_of(factor, s)] += s.tally.tried;
    all += s.tally.tried;
  }
  int others = 0;
  std::erase_if(grafts, [&](const auto& level) {
    if (level.second < kApart) others += level.second;
    return level.second < kApart;
  });
  if (others >= kApart) grafts[kOthers] = others;
  if (grafts.size() < 2) return {};
  const auto usual = std::max_element(grafts.begin(), grafts.end(),
                                      [](auto& a, auto& b) { return a.second < b.second; });
  std::vector<FactorColumn> columns;
  for (const auto& [level, count] : grafts) {
    if (level == usual->first) continue;
    columns.push_back({factor, level + " rather than " + usual->first, level, 0, 1,
                       static_cast<double>(count) / all});
  }
  return columns;
}

double value_in(const FactorColumn& column, const Sample& sample,
                std::span<const FactorColumn> columns) {
  if (const NumberFactor* number = number_of(column.factor)) {
    return *(sample.*number->value) - column.centre;
  }
  const std::string level = level_of(column.factor, sample);
  if (column.level != kOthers) return level == column.level ? 1 : 0;
  // "others" are those that no column and not the usual one names.
  const bool named = std::any_of(columns.begin(), columns.end(), [&](const FactorColumn& c) {
    return c.factor == column.factor &&
           (c.level == level || c.of.ends_with(" rather than " + level));
  });
  return named ? 0 : 1;
}

Sample sample_of(const BatchFate& batch) {
  Sample sample;
  sample.outside = batch.outside_hours;
  if (batch.dark_hours) sample.darkness = *batch.dark_hours / 24;
  sample.method = batch.method;
  sample.by = batch.by;
  sample.pairing = batch.pairing;
  return sample;
}

void add_samples(std::vector<Sample>& samples, const BatchFate& batch) {
  Sample rest = sample_of(batch);
  rest.tally = {batch.taken, batch.judged()};
  for (const GraftFate& graft : batch.grafts) {
    if (!graft.fate || graft.fate == Fate::out) continue;
    const int yes = graft.fate == Fate::taken ? 1 : 0;
    rest.tally.yes -= yes;
    --rest.tally.tried;
    Sample one = sample_of(batch);
    one.tally = {yes, 1};
    if (graft.mismatch) {
      one.mismatch = std::round(static_cast<double>(graft.mismatch->um()) / 50.0) / 2;
    }
    samples.push_back(one);
  }
  if (rest.tally.tried > 0) samples.push_back(rest);
}

}  // namespace

std::vector<Sample> samples_of(std::span<const BatchFate> batches) {
  std::vector<Sample> samples;
  for (const BatchFate& batch : batches) {
    if (batch.scored) add_samples(samples, batch);
  }
  return samples;
}

bool is_known(Factor factor, const Sample& sample) {
  if (const NumberFactor* number = number_of(factor)) return (sample.*number->value).has_value();
  return factor == Factor::method || !sample.by.empty();
}

std::vector<FactorColumn> columns_of(Factor factor, std::span<const Sample> samples) {
  const NumberFactor* number = number_of(factor);
  return number != nullptr ? number_column(*number, samples) : level_columns(factor, samples);
}

std::vector<Trials> trials_of(std::span<const Sample> samples,
                              std::span<const FactorColumn> columns) {
  std::map<std::string, int> groups;
  std::map<std::pair<int, std::vector<double>>, Tally> gathered;
  for (const Sample& sample : samples) {
    const int group =
        groups.try_emplace(sample.pairing, static_cast<int>(groups.size())).first->second;
    std::vector<double> x{1};
    for (const FactorColumn& column : columns) x.push_back(value_in(column, sample, columns));
    Tally& tally = gathered[{group, x}];
    tally.yes += sample.tally.yes;
    tally.tried += sample.tally.tried;
  }
  std::vector<Trials> lines;
  for (const auto& [key, tally] : gathered) {
    lines.push_back(
        {key.second, static_cast<double>(tally.yes), static_cast<double>(tally.tried), key.first});
  }
  return lines;
}

int groups_in(std::span<const Trials> lines) {
  int groups = 0;
  for (const Trials& line : lines) groups = std::max(groups, line.group + 1);
  return groups;
}

}  // namespace takehold::client
