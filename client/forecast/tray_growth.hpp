// How thick a tray's stems are on each day, under one course of warmth.
#pragma once

#include <cstdint>
#include <vector>

#include "client/forecast/drawn_trays.hpp"
#include "client/growth/stem.hpp"

namespace takehold::client {

/// A stem on one day. It keeps `who` from day to day.
struct DayStem {
  std::uint16_t um;
  std::uint32_t who;
  friend bool operator<(DayStem a, DayStem b) { return a.um != b.um ? a.um < b.um : a.who < b.who; }
};

class TrayGrowth {
 public:
  /// Borrows the draws. `tray`: a place among them, with its own warmth in `course`.
  TrayGrowth(const DrawnTrays& drawn, std::size_t tray, const Course& course, Age age, int days);

  /// Appends the graftable stems at noon of that day (0 is today) that belong to the share; not
  /// sorted.
  void stems_on(int season, int day, const TrayShare& share, std::vector<DayStem>& into) const;

 private:
  struct Grown {
    float heat_before;  // degC·d from sowing to its emergence
    float ln_size;
    float place;  // 0..1: which share it belongs to
  };
  const DrawnTrays& drawn_;
  std::size_t tray_;
  std::vector<double> heat_;  // degC·d from sowing on, by day; below 0: not sown yet
  std::vector<Grown> grown_{};
  std::vector<std::size_t> begins_{0};
};

}  // namespace takehold::client
