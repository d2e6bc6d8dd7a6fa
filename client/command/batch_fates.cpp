#include "client/command/batch_fates.hpp"

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>

#include "client/command/batch_view.hpp"
#include "daemon/api/exposure_message.hpp"
#include "daemon/healing/regime_json.hpp"

namespace takehold::client {
namespace {

// Light up to this is darkness to a plant (µmol m-2 s-1; assumed, near where leaves of seedlings
// break even).
constexpr double kDark = 10;
constexpr daemon::Hours kFirstDays{72};
constexpr double kSeenEnough = 0.5;

template <class T, class BatchOf>
std::map<std::string, std::vector<T>> gathered(const Book& book, BatchOf batch_of) {
  std::map<std::string, std::vector<T>> by_batch;
  for (const T& record : book.all<T>()) by_batch[batch_of(record)].push_back(record);
  return by_batch;
}

template <class T>
std::vector<T> of(const std::map<std::string, std::vector<T>>& all, const std::string& batch) {
  const auto found = all.find(batch);
  return found == all.end() ? std::vector<T>{} : found->second;
}

template <class T>
std::optional<T> last_of(const std::map<std::string, std::vector<T>>& all,
                         const std::string& batch) {
  const auto found = all.find(batch);
  return found == all.end() ? std::nullopt : std::optional<T>(found->second.back());
}

// Hours in dark stages as the plan went, holds and all, up to the day it was judged.
std::optional<double> dark_hours(const Batch& batch, const std::vector<BatchEvent>& events,
                                 const std::optional<Finish>& finish) {
  const auto read =
      daemon::parse_regime_json(nlohmann::json::parse(batch.regime_plan, nullptr, false));
  if (!read) return std::nullopt;
  const auto manual = manual_events(events);
  double hours = 0;
  for (Instant at = batch.at; !finish || at < finish->at;) {
    const auto now = daemon::stage_at(*read, batch.at, manual, at);
    if (now.over || !now.next) break;
    const auto& light = read->stages[now.index].light;
    if (light && light->high.umol() <= kDark) {
      hours += daemon::Hours(*now.next - at).count();
    }
    at = *now.next;
  }
  return hours;
}

double outside_of(const std::optional<daemon::BandExposure>& band) {
  return band ? (band->below.time + band->above.time).count() : 0;
}

// A stage that began within the first three days counts by the share of it that lies there.
std::optional<double> outside_hours(const std::optional<Exposure>& record) {
  if (!record) return std::nullopt;
  const auto message =
      daemon::exposure_message_from(nlohmann::json::parse(record->document, nullptr, false));
  if (!message) return std::nullopt;
  double outside = 0, seen = 0, length = 0;
  for (const auto& stage : message->exposure.stages) {
    const daemon::Hours left = message->entered_at + kFirstDays - stage.since;
    const double inside = std::clamp(left.count(), 0.0, stage.length().count());
    if (inside <= 0) continue;
    const double share = inside / stage.length().count();
    outside += share * (outside_of(stage.temperature) + outside_of(stage.humidity) +
                        outside_of(stage.vapour_deficit));
    seen += inside * stage.observed;
    length += inside;
  }
  if (length <= 0 || seen < kSeenEnough * length) return std::nullopt;
  return outside;
}

}  // namespace

std::vector<BatchFate> batch_fates(const Book& book) {
  const auto losses = gathered<Loss>(book, [](const Loss& l) { return l.subject; });
  const auto culls = gathered<Cull>(book, [](const Cull& c) { return c.subject; });
  const auto finishes = gathered<Finish>(book, [](const Finish& f) { return f.batch; });
  const auto exposures = gathered<Exposure>(book, [](const Exposure& e) { return e.batch; });
  const auto events = gathered<BatchEvent>(book, [](const BatchEvent& e) { return e.batch; });
  std::vector<BatchFate> fates;
  for (const Batch& batch : book.all<Batch>()) {
    const auto finish = last_of(finishes, batch.id);
    BatchFate fate =
        fate_of(batch, of(losses, batch.id), of(culls, batch.id), finish, book.time_zone());
    fate.dark_hours = dark_hours(batch, of(events, batch.id), finish);
    fate.outside_hours = outside_hours(last_of(exposures, batch.id));
    fates.push_back(std::move(fate));
  }
  return fates;
}

TakeRecord takes_of(const Book& book, GroupBy by) {
  const auto fates = batch_fates(book);
  TakeRecord record{by, tallies_by(by, fates), {}};
  for (const BatchFate& fate : fates) {
    if (!fate.scored) {
      record.pending.push_back({fate.batch, fate.pairing, static_cast<int>(fate.grafts.size())});
    }
  }
  return record;
}

}  // namespace takehold::client
