#include "client/command/import_check.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <optional>
#include <vector>

#include "client/command/recording.hpp"
#include "client/season/batch.hpp"
#include "client/season/crop.hpp"
#include "client/season/sowing.hpp"
#include "daemon/healing/regime_json.hpp"

namespace takehold::client {
namespace {

/// What would stand: the book's nouns with the tables' over them.
class Merged {
 public:
  Merged(const Book& book, std::span<const PlainNoun> taken_in) {
    for (PlainNoun& noun : book.nouns()) put(std::move(noun));
    for (const PlainNoun& noun : taken_in) put(noun);
  }
  template <class T>
  std::vector<T> all() const {
    std::vector<T> nouns;
    for (auto it = nouns_.lower_bound({T::kKind, ""});
         it != nouns_.end() && it->first.first == T::kKind; ++it) {
      nouns.push_back(from_json<T>(it->second));
    }
    return nouns;
  }

 private:
  void put(PlainNoun noun) { nouns_[{noun.kind, noun.key}] = std::move(noun.fields); }
  std::map<std::pair<Kind, std::string>, nlohmann::json> nouns_{};
};

/// Everything told of one batch or sowing.
struct Told {
  std::vector<Loss> losses{};
  std::vector<Cull> culls{};
  std::vector<SetOut> set_outs{};
  std::vector<Finish> finishes{};
  std::vector<int> plants{};  ///< every number that anybody named

  template <class Holds>
  int lost(Holds holds) const {
    int sum = 0;
    for (const Loss& loss : losses) sum += holds(loss) ? loss.count : 0;
    return sum;
  }
  int set_out() const {
    int sum = 0;
    for (const SetOut& one : set_outs) sum += one.count;
    return sum;
  }
};

using ToldBySubject = std::map<std::string, Told>;

void name(Told& told, const std::vector<int>& plants) {
  told.plants.insert(told.plants.end(), plants.begin(), plants.end());
}

ToldBySubject told_in(const Merged& book) {
  ToldBySubject all;
  for (const Loss& loss : book.all<Loss>()) {
    all[loss.subject].losses.push_back(loss);
    name(all[loss.subject], loss.plants);
  }
  for (const Cull& cull : book.all<Cull>()) {
    all[cull.subject].culls.push_back(cull);
    name(all[cull.subject], cull.plants);
  }
  for (const SetOut& one : book.all<SetOut>()) {
    all[one.subject].set_outs.push_back(one);
    name(all[one.subject], one.plants);
  }
  for (const Harvest& picked : book.all<Harvest>()) {
    if (picked.plant) name(all[picked.subject], {*picked.plant});
  }
  for (const Remark& remark : book.all<Remark>()) name(all[remark.subject], remark.plants);
  for (const Measurement& measurement : book.all<Measurement>()) {
    for (const Stem& stem : measurement.stems) name(all[measurement.sowing], {stem.number});
  }
  for (const Finish& finish : book.all<Finish>()) all[finish.batch].finishes.push_back(finish);
  return all;
}

void check_numbers(const std::string& subject, const Told& told, int highest) {
  for (const int plant : told.plants) {
    if (plant <= highest) continue;
    refuse("no-such-graft", fmt::format("{} names plant {}, and has {}", subject, plant, highest),
           subject);
  }
}

void check_fits(const std::string& subject, const char* what, int count, int most) {
  if (count <= most) return;
  refuse("more-than-stand", fmt::format("{}: {} {}, of {} at most", subject, count, what, most),
         subject, "the tables contradict each other; nothing was taken in");
}

void check_batch(const Batch& batch, const Told& told) {
  const std::string& id = batch.id;
  check_numbers(id, told, batch.count());
  const auto regime =
      daemon::parse_regime_json(nlohmann::json::parse(batch.regime_plan, nullptr, false));
  if (!regime) {
    auto problem = regime.error();
    problem.title = "regime_plan of " + id + ": " + problem.title;
    throw sensors::Refused(std::move(problem));
  }
  if (told.finishes.size() > 1) refuse("twice", id + " is finished twice", id);
  const int failed = told.lost([](const Loss& loss) { return !loss.late; });
  const int later = told.lost([](const Loss& loss) { return loss.late.has_value(); });
  int out = 0, out_since = 0;
  const std::optional<Finish> finish =
      told.finishes.empty() ? std::nullopt : std::optional(told.finishes.front());
  for (const Cull& cull : told.culls)
    (finish && cull.at >= finish->at ? out_since : out) += cull.count;
  const int taken = finish ? finish->taken : 0;
  check_fits(id, "lost, thrown out or taken", failed + out + taken, batch.count());
  check_fits(id, "lost, thrown out or given away after they took",
             later + out_since + (finish ? finish->given : 0), taken);
  check_fits(id, "set out", told.set_out(), taken);
  const int in_bed = told.lost([](const Loss& loss) { return loss.late == LateLoss::bed; });
  check_fits(id, "lost in beds", in_bed, told.set_out());
  if (finish && finish->at < batch.at) {
    refuse("before-grafting", id + " is finished before it was grafted", id);
  }
}

}  // namespace

void check_import(const Book& book, std::span<const PlainNoun> taken_in) {
  const Merged merged(book, taken_in);
  ToldBySubject told = told_in(merged);
  for (const Batch& batch : merged.all<Batch>()) check_batch(batch, told[batch.id]);
  std::map<std::string, int> sown;
  for (const Sowing& sowing : merged.all<Sowing>()) {
    sown[sowing.id] = sowing.seeds;
    check_numbers(sowing.id, told[sowing.id], sowing.seeds);
    check_fits(sowing.id, "set out", told[sowing.id].set_out(), sowing.seeds);
  }
  for (const Emerged& count : merged.all<Emerged>()) {
    const auto seeds = sown.find(count.sowing);
    if (seeds == sown.end() || count.standing <= seeds->second) continue;
    refuse("more-than-sown", fmt::format("{} standing of {} sown", count.standing, seeds->second),
           count.sowing);
  }
}

}  // namespace takehold::client
