// What to do with the stems that a day's match left over.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "client/growth/later_diameter.hpp"
#include "client/match/tolerance.hpp"

namespace takehold::client {

/// So far ahead left-overs are looked at; they are measured again long before.
inline constexpr int kLeftOverDays = 7;

/// A stem without a partner, and how it goes on.
struct LeftStem {
  Micrometres um = 0;
  double vigour = 1;                                                       ///< of its lot
  sensors::ThermalTime heat_a_day = sensors::ThermalTime::degc_days(0);    ///< where it stands
  sensors::ThermalTime cooler_a_day = sensors::ThermalTime::degc_days(0);  ///< at a cooler place
};

enum class LeftOverFate {
  wait,     ///< it matches a left-over stem of the other side after `in_days`
  cooler,   ///< so it does if it is carried to the cooler place until then
  discard,  ///< it does not match any before it is too thick
};

struct LeftOverAdvice {
  LeftOverFate fate = LeftOverFate::discard;
  int in_days = 0;                         ///< of wait and cooler; 1: tomorrow
  std::optional<std::size_t> partner{};    ///< a place in the other side's list
  std::optional<Micrometres> then{};       ///< its own diameter by then
  std::optional<int> days_to_too_thick{};  ///< at its place; 0: now; nothing: not within the week
};

struct LeftOverAnswer {
  std::vector<LeftOverAdvice> rootstocks{}, scions{};
};

/// Day by day, whatever can be paired first is: as the stems go on by themselves, and then what is
/// still left with one side made to wait. Stems outside 1.5 to 2.6 mm (Graftable) are not paired.
/// What their lots are most likely to do, without its uncertainty.
LeftOverAnswer advise_left_over(std::span<const LeftStem> rootstocks,
                                std::span<const LeftStem> scions, const Tolerance& tolerance);

}  // namespace takehold::client
