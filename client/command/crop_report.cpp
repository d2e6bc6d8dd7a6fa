#include "client/command/crop_report.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "client/command/ranking.hpp"
#include "client/command/worth.hpp"

namespace takehold::client {
namespace {

std::string kilograms(const Crop& crop) {
  return crop.mean() ? fmt::format("{:.2f}", *crop.mean()) : "not weighed";
}

std::string between_text(const Worth& worth) {
  if (!worth.between) return "not known";
  return fmt::format("{:.2f} to {:.2f}", worth.between->low, worth.between->high);
}

ReportSection worth_section(const std::vector<ScionCrops>& all) {
  ReportSection section{"Was grafting worth it", {}, {}, {}, {}};
  section.words.emplace_back(
      "Kilograms that one plant gave, grafted and on its own roots, and between what the "
      "difference "
      "lies 19 times in 20, where plants were weighed one by one.");
  ReportTable table{{{"variety", 2},
                     {"grafted, kg", 1, false, Across::right},
                     {"own roots, kg", 1, false, Across::right},
                     {"more by grafting, kg", 1.6, false, Across::right}},
                    {}};
  for (const ScionCrops& crops : all) {
    const Worth worth = worth_of(crops.grafted, crops.own_rooted);
    table.rows.push_back(
        {crops.scion, kilograms(crops.grafted), kilograms(crops.own_rooted), between_text(worth)});
    section.afterwords.push_back(worth_paragraph(crops));
  }
  section.table = std::move(table);
  return section;
}

ReportSection ranking_section(const std::vector<RankedVariety>& all, RemarkAbout about) {
  ReportSection section{fmt::format("How they were scored: {}", to_text(about)), {}, {}, {}, {}};
  section.words.emplace_back(
      "The grower's own scores, 0 to 10. Varieties that share a place (=) are not told apart by so "
      "few plants.");
  ReportTable table{{{"place", 0.6, false, Across::right},
                     {"variety", 3},
                     {"plants", 1, false, Across::right},
                     {"mean", 1, false, Across::right},
                     {"9 times in 10", 1.6, false, Across::right}},
                    {}};
  for (const RankedVariety& one : all) {
    table.rows.push_back({place_text(all, one),
                          one.ranked.variety + (one.first_time ? ", first time" : ""),
                          std::to_string(one.ranked.plants), fmt::format("{:.1f}", one.ranked.mean),
                          fmt::format("{:.1f} to {:.1f}", std::max(0.0, one.ranked.low),
                                      std::min(kBestScore, one.ranked.high))});
  }
  section.table = std::move(table);
  return section;
}

}  // namespace

std::vector<ReportSection> crop_sections(const Book& book) {
  std::vector<ReportSection> sections;
  const auto seasons = seasons_picked(book);
  if (!seasons.empty()) {
    const auto crops = crops_of(book, seasons.back());
    if (!crops.empty()) sections.push_back(worth_section(crops));
  }
  for (const RemarkAbout about : {RemarkAbout::taste, RemarkAbout::looks, RemarkAbout::vigour}) {
    const auto ranked = ranking_in(book, last_scored(book, about), about);
    if (!ranked.empty()) sections.push_back(ranking_section(ranked, about));
  }
  return sections;
}

}  // namespace takehold::client
