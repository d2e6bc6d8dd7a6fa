// Nouns out of the book and into it without their types, for export and import.
#include <algorithm>
#include <set>

#include "client/book/inside.hpp"
#include "client/book/recorder.hpp"

namespace takehold::client {
namespace {

/// Told first, first; what nobody told yet comes last, in the order given.
std::vector<PlainNoun> in_order_told(std::span<const PlainNoun> nouns) {
  std::vector<PlainNoun> sorted(nouns.begin(), nouns.end());
  std::stable_sort(sorted.begin(), sorted.end(), [](const PlainNoun& a, const PlainNoun& b) {
    return a.told && (!b.told || *a.told < *b.told);
  });
  return sorted;
}

}  // namespace

std::vector<PlainNoun> Book::nouns() const {
  std::vector<std::pair<FirstTold, PlainNoun>> all;
  for (const Kind kind : kAllKinds)
    for (Row& row : tables().now(kind))
      all.push_back(
          {row.first_told, {kind, std::move(row.key), std::move(row.fields), {}, row.entered_at}});
  std::stable_sort(all.begin(), all.end(),
                   [](const auto& a, const auto& b) { return a.first < b.first; });
  std::vector<PlainNoun> nouns;
  for (auto& [told, noun] : all) {
    nouns.push_back(std::move(noun));
    nouns.back().told = static_cast<std::int64_t>(nouns.size());
  }
  return nouns;
}

TakenIn Book::take_in(std::span<const PlainNoun> nouns, std::string_view words,
                      sensors::Instant now, const std::optional<sensors::TimeZone>& zone,
                      const std::optional<nlohmann::json>& sheet) {
  TakenIn taken;
  std::set<NounRef> given;
  std::set<Kind> kinds;
  taken.command = record(words, now, [&](Recorder& recorder) {
    if (zone) recorder.use_time_zone(*zone);
    for (const PlainNoun& noun : in_order_told(nouns)) {
      given.insert({noun.kind, noun.key});
      kinds.insert(noun.kind);
      const auto stands = tables().find(noun.kind, noun.key);
      if (stands && stands->fields == noun.fields) {
        ++taken.unchanged;
        continue;
      }
      recorder.take_in(noun.kind, noun.key, noun.fields);
      (stands ? taken.changed : taken.added).push_back({noun.kind, noun.key});
    }
    recorder.check_taken_in();
    if (sheet && last_sheet().empty()) recorder.keep_sheet(*sheet);
  });
  for (const Kind kind : kinds)
    for (const Row& row : tables().now(kind))
      if (!given.contains({kind, row.key})) taken.missing.push_back({kind, row.key});
  return taken;
}

}  // namespace takehold::client
