// What calliper readings say of a lot. Only for the sources of this folder.
#pragma once

#include <array>
#include <span>
#include <vector>

#include "client/growth/stem_reading.hpp"

namespace takehold::client {

/// Readings of one lot at one ln e after another: set_emergence, then any number of log_at.
class StemLikelihood {
 public:
  /// Borrows the record. `scatters`: values of ln(sd of ln s) at which the readings are looked at.
  StemLikelihood(const LotSeen& lot, std::vector<double> scatters);

  bool is_empty() const { return groups_.empty(); }
  const std::vector<double>& scatters() const { return scatters_; }
  /// Looks at these scatters only from now on.
  void keep_scatters(std::vector<double> scatters) { scatters_ = std::move(scatters); }

  void set_emergence(double ln_e);
  /// ln of the likelihood at ln v, for each scatter.
  std::vector<double> log_at(double ln_v) const;

 private:
  /// Seedlings of one sowing that were read on the same occasions.
  struct Group {
    std::size_t sowing;
    std::vector<Age> ages;
    std::vector<std::vector<double>> ln_readings;  // by seedling, then occasion
    std::vector<double> weights;                   // of the nodes at the present ln e
    std::vector<double> heats;                     // degC·d, by node, then occasion
  };
  static double log_of_group(const Group& group, std::span<const double> ln_expected,
                             double scatter);

  const LotSeen& lot_;
  double spread_;
  std::vector<double> scatters_;
  std::vector<Group> groups_;
};

}  // namespace takehold::client
