#include "client/command/changes.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>

#include "client/command/batch_view.hpp"
#include "client/season/planned.hpp"
#include "client/terminal/numbers.hpp"

namespace takehold::client {

namespace {

using sensors::Instant;

class Changes {
 public:
  Changes(const Book& book, Instant since, Instant now) : book_(book), since_(since), now_(now) {
    for (const CommandLine& line : book.commands()) words_[line.id] = line.words;
  }

  std::vector<Change> all() {
    for (const Batch& batch : book_.all<Batch>()) add_stage(batch);
    add_told<Sowing>(&Sowing::id, [](const Sowing& s) {
      return fmt::format("sown, {} of {}", counted(s.seeds, "seed", "seeds"), s.lot);
    });
    add_told<Emerged>(&Emerged::sowing, [this](const Emerged& e) { return count_text(e); });
    add_told<Measurement>(&Measurement::sowing, [](const Measurement& m) {
      return counted(static_cast<long long>(m.stems.size()), "stem", "stems") + " measured";
    });
    add_told<Loss>(&Loss::subject, [](const Loss& l) {
      return fmt::format("{} lost, {}", l.count, to_text(l.cause));
    });
    add_told<Cull>(&Cull::subject, [](const Cull& c) {
      return fmt::format("{} {}", c.count, c.given ? "given away" : "thrown out");
    });
    add_told<Move>(&Move::subject, [](const Move& m) { return "stands in " + m.to + " now"; });
    add_told<Batch>(&Batch::id, [](const Batch& b) {
      return fmt::format("grafted, {} of {}/{}", b.count(), b.scion, b.rootstock);
    });
    add_told<Finish>(&Finish::batch,
                     [](const Finish& f) { return fmt::format("finished, {} took", f.taken); });
    add_plan<PlannedSowing>(&PlannedSowing::lot, &PlannedSowing::sow_on, "sow");
    add_plan<PlannedGraft>(&PlannedGraft::pairing, &PlannedGraft::graft_on, "graft");
    return std::move(changes_);
  }

 private:
  bool is_recent(Instant at) const { return at > since_ && at <= now_; }

  void add_stage(const Batch& batch) {
    const BatchState state = state_of(book_, batch);
    if (batch.at > since_ || state.living() <= 0) return;
    const auto regime = regime_of(batch);
    std::vector<BatchEvent> earlier = state.events;
    std::erase_if(earlier, [&](const BatchEvent& event) { return event.at > since_; });
    const auto before = daemon::stage_at(regime, batch.at, manual_events(earlier), since_);
    const auto stage = stage_of(state, now_);
    if (before.index == stage.index && before.over == stage.over) return;
    const auto hand = std::find_if(state.events.rbegin(), state.events.rend(),
                                   [&](const BatchEvent& event) { return is_recent(event.at); });
    changes_.push_back(
        {batch.id,
         fmt::format("{} since {}, {} before", daemon::stage_name(regime, stage),
                     book_.time_zone().local_text(stage.since), daemon::stage_name(regime, before)),
         hand == state.events.rend()
             ? "by its healing plan"
             : fmt::format("stage {} --{}", batch.id, to_text(hand->kind))});
  }

  std::string count_text(const Emerged& count) const {
    const Emerged* before = nullptr;
    const auto all = book_.all<Emerged>();
    for (const Emerged& other : all) {
      const bool earlier = other.sowing == count.sowing && other.at < count.at;
      if (earlier && (before == nullptr || other.at > before->at)) before = &other;
    }
    return fmt::format("{} standing{}", count.standing,
                       before == nullptr ? "" : fmt::format(", {} before", before->standing));
  }

  /// Records first told after `since_`.
  template <class T, class Text>
  void add_told(std::string T::*about, Text text) {
    for (const auto& record : book_.records<T>()) {
      const bool is_new = record.command == record.first_told.command;
      if (!is_new || !is_recent(record.entered_at)) continue;
      changes_.push_back({record.noun.*about, text(record.noun),
                          "told on " + book_.time_zone().local_text(record.entered_at)});
    }
  }

  /// Lines that came, or moved to another day; a plan accepted whole is one change, not twenty.
  template <class T>
  void add_plan(std::string T::*about, sensors::Day T::*day, const char* verb) {
    std::vector<Change> lines;
    for (const auto& record : book_.records<T>()) {
      if (!is_recent(record.entered_at)) continue;
      const auto versions = book_.template history<T>(record.noun.id);
      const auto old = std::find_if(versions.rbegin(), versions.rend(), [&](const Version<T>& v) {
        return v.entered_at <= since_ && !v.gone;
      });
      const bool moved = old != versions.rend();
      if (moved && old->noun.*day == record.noun.*day) continue;
      lines.push_back(
          {record.noun.*about,
           fmt::format("{} {} on {}{}", verb, record.noun.*about,
                       sensors::to_string(record.noun.*day),
                       moved ? " instead of " + sensors::to_string(old->noun.*day) : ", new"),
           words_[record.command]});
    }
    constexpr std::size_t kShown = 3;
    if (lines.size() > kShown) {
      lines = {{"plan", fmt::format("{} of its days to {} are new or others", lines.size(), verb),
                lines.front().why}};
    }
    changes_.insert(changes_.end(), lines.begin(), lines.end());
  }

  const Book& book_;
  Instant since_, now_;
  std::map<CommandId, std::string> words_{};
  std::vector<Change> changes_{};
};

}  // namespace

nlohmann::json to_json(const Change& change) {
  return {{"about", change.about}, {"text", change.text}, {"why", change.why}};
}

std::vector<Change> changes_since(const Book& book, Instant since, Instant now) {
  return Changes(book, since, now).all();
}

}  // namespace takehold::client
