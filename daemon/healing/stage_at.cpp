#include "daemon/healing/stage_at.hpp"

#include <algorithm>
#include <cassert>

#include "sensors/quantity/time_zone.hpp"

namespace takehold::daemon {
namespace {

using sensors::Instant;
using std::chrono::milliseconds;

constexpr auto kBetween = std::chrono::hours(1);

/// Walks along a batch's life, from one event to the next.
class Walk {
 public:
  Walk(const Regime& regime, Instant entered_at) : regime_(regime) { begin(0, entered_at); }

  void pass_time_until(Instant moment) {
    while (!over() && ends_ <= moment) begin(index_ + 1, ends_);
  }

  void apply(const ManualEvent& event) {
    pass_time_until(event.at);
    switch (event.kind) {
      case EventKind::advance:
        if (!over()) begin(index_ + 1, event.at);
        break;
      case EventKind::back:
        begin(index_ == 0 ? 0 : index_ - 1, event.at);
        break;
      case EventKind::hold:
        if (!over()) hold(event.at, event.longer);
        break;
    }
  }

  StageNow at(Instant now) {
    pass_time_until(now);
    if (over()) return {index_, true, since_, std::nullopt, 1.0, Daylight::day};
    return {index_, false, since_, ends_, progress(now), Daylight::day};
  }

 private:
  struct Pause {
    Instant from, to;
  };

  bool over() const { return index_ == regime_.stages.size(); }

  void begin(std::size_t index, Instant moment) {
    index_ = index;
    since_ = moment;
    pauses_.clear();
    if (!over()) ends_ = since_ + regime_.stages[index_].length;
  }

  /// A hold given while another lasts begins when that one ends.
  void hold(Instant moment, std::chrono::minutes longer) {
    const Instant from = pauses_.empty() ? moment : std::max(moment, pauses_.back().to);
    pauses_.push_back({from, from + longer});
    ends_ += longer;
  }

  double progress(Instant now) const {
    milliseconds moved = std::max(now - since_, milliseconds(0));
    for (const Pause& pause : pauses_) {
      moved -= std::clamp<milliseconds>(now - pause.from, milliseconds(0), pause.to - pause.from);
    }
    const milliseconds length = regime_.stages[index_].length;
    return static_cast<double>(moved.count()) / static_cast<double>(length.count());
  }

  const Regime& regime_;
  std::size_t index_ = 0;
  Instant since_, ends_;
  std::vector<Pause> pauses_;
};

}  // namespace

StageNow stage_at(const Regime& regime, Instant entered_at, std::span<const ManualEvent> events,
                  Instant now) {
  assert(!regime.stages.empty());
  std::vector<ManualEvent> counted;
  for (const ManualEvent& event : events) {
    if (entered_at <= event.at && event.at <= now) counted.push_back(event);
  }
  std::stable_sort(counted.begin(), counted.end(),
                   [](const ManualEvent& a, const ManualEvent& b) { return a.at < b.at; });
  Walk walk(regime, entered_at);
  for (const ManualEvent& event : counted) walk.apply(event);
  StageNow found = walk.at(now);
  found.daylight = daylight_at(regime, now);
  return found;
}

Daylight daylight_at(const Regime& regime, Instant at) {
  if (!regime.day) return Daylight::day;
  const auto named = sensors::TimeZone::named(regime.time_zone.empty() ? "UTC" : regime.time_zone);
  const auto zone = named ? *named : sensors::TimeZone::utc();
  const milliseconds now = zone.wall_time(at);
  const auto [begins, ends] = *regime.day;
  const auto since = [now](milliseconds change) {  // within the last day
    return now >= change ? now - change : now - change + std::chrono::hours(24);
  };
  if (std::min(since(begins), since(ends)) < kBetween) return Daylight::between;
  return since(begins) < since(ends) ? Daylight::day : Daylight::night;
}

std::string_view stage_name(const Regime& regime, const StageNow& now) {
  return now.over ? std::string_view("done") : regime.stages[now.index].name;
}

}  // namespace takehold::daemon
