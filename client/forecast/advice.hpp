// What would help a pairing, each tried out on simulated seasons.
#pragma once

#include <string>
#include <vector>

#include "client/forecast/cohort_seasons.hpp"
#include "client/season/words.hpp"

namespace takehold::client {

enum class AdviceKind {
  cooler,  ///< carry one side's trays to a cooler bench for some days
  top_up,  ///< sow more of one side now
  in_two,  ///< graft those that match early, the others later
  shrink,  ///< promise fewer plants
};
template <>
struct EnumNames<AdviceKind> {
  static constexpr Spelling<AdviceKind, 4> value{{{AdviceKind::cooler, "cooler"},
                                                  {AdviceKind::top_up, "top_up"},
                                                  {AdviceKind::in_two, "in_two"},
                                                  {AdviceKind::shrink, "shrink"}}};
};

/// One thing to do and what it changes. Members that do not belong to its kind stay at 0.
struct Advice {
  AdviceKind kind{};
  Side side = Side::scion;                     ///< cooler, top_up
  std::vector<std::string> trays{};            ///< cooler
  double cooler_kelvin = 0;                    ///< cooler: by so much, day and night
  int days = 0;                                ///< cooler: for so long, from today
  std::string bench{};                         ///< cooler: one that is about that cool, if there is
  std::string lot{};                           ///< top_up
  int seeds = 0;                               ///< top_up
  Day on{};                                    ///< in_two: the first session
  double pairs = 0;                            ///< in_two: expected then
  int want = 0;                                ///< shrink: what can be promised
  double useful_before = 0, useful_after = 0;  ///< finished in time, at most those wanted, expected
  double gain_error = 0;                       ///< standard error of their difference
  double probability_before = 0, probability_after = 0;  ///< shrink: after is that of `want`
};

/// Tries many changes on some seasons and the best of each kind on others, drawn anew, so that what
/// is told of it is not its luck. Kept are those that gain more than two standard errors and a
/// twentieth of a plant.
class Adviser {
 public:
  /// Borrows the request.
  explicit Adviser(const ForecastRequest& request);

  std::vector<Advice> advise(const Cohort& cohort, std::size_t pairing) const;

 private:
  struct Seasons {
    ForecastRequest request;
    DrawnTrays drawn;
  };
  struct Result {
    std::vector<double> worth{};  ///< of the cohort's finished plants by weight, season by season
    double useful = 0;            ///< of the one pairing
    double probability = 0;
    double first_pairs = 0;  ///< of two sessions
  };
  static Seasons drawn_anew(const ForecastRequest& request, int seasons, std::uint64_t seed);
  static Result run(const Seasons& seasons, const Cohort& cohort, std::size_t pairing,
                    const Advice* advice);

  const ForecastRequest& request_;
  Seasons trying_;
  Seasons telling_;
};

}  // namespace takehold::client
