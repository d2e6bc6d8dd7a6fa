// Grafts as lines of a regression, factors as its columns. Only for the .cpp files of this folder.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "client/takes/logistic.hpp"
#include "client/takes/what_spoils.hpp"

namespace takehold::client {

/// Grafts of one batch that are alike in everything known of them.
struct Sample {
  Tally tally{};
  std::optional<double> mismatch{};  ///< in 0.1 mm, rounded to half of that: what a caliper tells
  std::optional<double> outside{};   ///< hours
  std::optional<double> darkness{};  ///< days
  Method method = Method::splice;
  std::string by{};  ///< empty: not noted
  std::string pairing{};
};

struct FactorColumn {
  Factor factor{};
  std::string of{};
  std::string level{};  ///< of a method or person: 1 where it is this; else the number itself
  double centre = 0;    ///< taken from a number
  double span = 1;      ///< two standard deviations of a number, 1 of a level
  double usual = 0;
};

std::vector<Sample> samples_of(std::span<const BatchFate> batches);
bool is_known(Factor factor, const Sample& sample);
/// The columns the factor adds; none where all samples are alike in it. A way or a person with
/// fewer than 5 grafts is not compared apart but with "others".
std::vector<FactorColumn> columns_of(Factor factor, std::span<const Sample> samples);
/// Intercept first; one line for all samples alike in these columns and in the pairing, their
/// group.
std::vector<Trials> trials_of(std::span<const Sample> samples,
                              std::span<const FactorColumn> columns);
int groups_in(std::span<const Trials> lines);

}  // namespace takehold::client
