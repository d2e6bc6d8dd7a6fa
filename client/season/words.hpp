// The words a grower chooses from: each enum and how it is written.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <utility>

namespace takehold::client {

/// Specialised for every enum below: `value` lists each with its spelling.
template <class E>
struct EnumNames;

template <class E, std::size_t N>
using Spelling = std::array<std::pair<E, std::string_view>, N>;

template <class E>
constexpr std::string_view to_text(E e) {
  for (const auto& [value, text] : EnumNames<E>::value)
    if (value == e) return text;
  return {};
}

/// None for a word that is not on the list.
template <class E>
constexpr std::optional<E> from_text(std::string_view word) {
  for (const auto& [value, text] : EnumNames<E>::value)
    if (text == word) return value;
  return std::nullopt;
}

/// "scion | rootstock | both", for messages.
template <class E>
std::string choices() {
  std::string all;
  for (const auto& [value, text] : EnumNames<E>::value)
    all.append(all.empty() ? "" : " | ").append(text);
  return all;
}

enum class Role { both, scion, rootstock };
template <>
struct EnumNames<Role> {
  static constexpr Spelling<Role, 3> value{
      {{Role::scion, "scion"}, {Role::rootstock, "rootstock"}, {Role::both, "both"}}};
};

enum class Species { lycopersicum, interspecific };
template <>
struct EnumNames<Species> {
  static constexpr Spelling<Species, 2> value{
      {{Species::lycopersicum, "lycopersicum"}, {Species::interspecific, "interspecific"}}};
};

enum class Habit { indeterminate, determinate, dwarf, micro_dwarf };
template <>
struct EnumNames<Habit> {
  static constexpr Spelling<Habit, 4> value{{{Habit::indeterminate, "indeterminate"},
                                             {Habit::determinate, "determinate"},
                                             {Habit::dwarf, "dwarf"},
                                             {Habit::micro_dwarf, "micro dwarf"}}};
};

/// What a variety carries against tobacco mosaic virus; joining Tm-1 or Tm-2 to none can fail.
enum class TmvGenes { unknown, none, tm_1, tm_2, tm_2_2 };
template <>
struct EnumNames<TmvGenes> {
  static constexpr Spelling<TmvGenes, 5> value{{{TmvGenes::unknown, "unknown"},
                                                {TmvGenes::none, "none"},
                                                {TmvGenes::tm_1, "Tm-1"},
                                                {TmvGenes::tm_2, "Tm-2"},
                                                {TmvGenes::tm_2_2, "Tm-2^2"}}};
};

/// Where a lot's seed comes from: a packet, or saved and cleaned by fermenting or on paper.
enum class Origin { bought, fermented, paper };
template <>
struct EnumNames<Origin> {
  static constexpr Spelling<Origin, 3> value{
      {{Origin::bought, "bought"}, {Origin::fermented, "fermented"}, {Origin::paper, "paper"}}};
};

enum class Method { splice, cleft, side, approach };
template <>
struct EnumNames<Method> {
  static constexpr Spelling<Method, 4> value{{{Method::splice, "splice"},
                                              {Method::cleft, "cleft"},
                                              {Method::side, "side"},
                                              {Method::approach, "approach"}}};
};

/// What killed a plant.
enum class Cause { unknown, wilted, rotted, slipped, damped_off, pest, accident };
template <>
struct EnumNames<Cause> {
  static constexpr Spelling<Cause, 7> value{{{Cause::wilted, "wilted"},
                                             {Cause::rotted, "rotted"},
                                             {Cause::slipped, "slipped"},
                                             {Cause::damped_off, "damped-off"},
                                             {Cause::pest, "pest"},
                                             {Cause::accident, "accident"},
                                             {Cause::unknown, "unknown"}}};
};

/// When a plant died that had taken, or that was set out on its own roots.
enum class LateLoss { hardening, bed };
template <>
struct EnumNames<LateLoss> {
  static constexpr Spelling<LateLoss, 2> value{
      {{LateLoss::hardening, "hardening"}, {LateLoss::bed, "bed"}}};
};

/// What a grower did to a batch's stage: on to the next, longer in this, the previous once more.
enum class StageChange { advance, hold, back };
template <>
struct EnumNames<StageChange> {
  static constexpr Spelling<StageChange, 3> value{{{StageChange::advance, "advance"},
                                                   {StageChange::hold, "hold"},
                                                   {StageChange::back, "back"}}};
};

/// Which half of a graft a sowing is for.
enum class Side { scion, rootstock, own_root };
template <>
struct EnumNames<Side> {
  static constexpr Spelling<Side, 3> value{
      {{Side::scion, "scion"}, {Side::rootstock, "rootstock"}, {Side::own_root, "own root"}}};
};

/// What typed numbers and shown ones are in.
enum class Units { metric, us };
template <>
struct EnumNames<Units> {
  static constexpr Spelling<Units, 2> value{{{Units::metric, "metric"}, {Units::us, "us"}}};
};

/// How a day is written for a reader; typed days are always year first.
enum class DateOrder { year_first, day_first, month_first };
template <>
struct EnumNames<DateOrder> {
  static constexpr Spelling<DateOrder, 3> value{{{DateOrder::year_first, "year first"},
                                                 {DateOrder::day_first, "day first"},
                                                 {DateOrder::month_first, "month first"}}};
};

enum class Weekday { mon, tue, wed, thu, fri, sat, sun };
template <>
struct EnumNames<Weekday> {
  static constexpr Spelling<Weekday, 7> value{{{Weekday::mon, "Mon"},
                                               {Weekday::tue, "Tue"},
                                               {Weekday::wed, "Wed"},
                                               {Weekday::thu, "Thu"},
                                               {Weekday::fri, "Fri"},
                                               {Weekday::sat, "Sat"},
                                               {Weekday::sun, "Sun"}}};
};

}  // namespace takehold::client
