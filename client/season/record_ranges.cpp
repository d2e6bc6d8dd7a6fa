// Of what was recorded day by day: as the commands allow it.
#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>

#include "client/season/ranges.hpp"
#include "client/season/stem_text.hpp"

namespace takehold::client {
namespace {

bool is_stem(const std::optional<Millimetres>& diameter) {
  return !diameter || (*diameter >= kThinnestStem && *diameter <= kThickestStem);
}

/// Each from 1 and once, and as many as are counted, or none noted.
bool are_numbers(const std::vector<int>& plants, int count) {
  const std::set<int> once(plants.begin(), plants.end());
  return plants.empty() || (once.size() == plants.size() && *once.begin() >= 1 &&
                            static_cast<int>(plants.size()) == count);
}

constexpr const char* kNumbers = "are numbers from 1, each once, as many as are counted";
constexpr const char* kOne = "is 1 or more";
constexpr const char* kNone = "is 0 or more";
constexpr const char* kStems = "have diameters of 0.3 to 15 mm, and numbers from 1, each once";

constexpr double kBrightest = 2500;  // µmol m-2 s-1: above full sun

bool is_object(const std::string& text) {
  return text.empty() || nlohmann::json::parse(text, nullptr, false).is_object();
}

/// So many plants, some or all of them named by their numbers.
template <class T>
void counted_plants(const T& record, const Require& require) {
  require(record.count >= 1, "count", kOne);
  require(are_numbers(record.plants, record.count), "plants", kNumbers);
}

}  // namespace

void ranges(const Sowing& sowing, const Require& require) {
  require(sowing.seeds >= 1, "seeds", kOne);
  require(sowing.cells >= 0, "cells", kNone);
}

void ranges(const Emerged& emerged, const Require& require) {
  require(emerged.standing >= 0, "standing", kNone);
}

void ranges(const Thinning& thinning, const Require& require) {
  require(thinning.removed >= 1, "removed", kOne);
}

void ranges(const Pricking& pricking, const Require& require) {
  require(pricking.plants >= 1, "plants", kOne);
}

void ranges(const Measurement& measurement, const Require& require) {
  std::set<int> once;
  for (const Stem& stem : measurement.stems) {
    require(stem.number >= 1 && once.insert(stem.number).second && is_stem(stem.diameter), "stems",
            kStems);
  }
}

void ranges(const Move& move, const Require& require) {
  require(!move.to.empty(), "to", "is a bench, or chamber");
}

void ranges(const Batch& batch, const Require& require) {
  std::set<int> once;
  for (const Graft& graft : batch.grafts) {
    require(graft.number >= 1 && graft.place >= 1 && once.insert(graft.number).second &&
                is_stem(graft.rootstock_diameter) && is_stem(graft.scion_diameter),
            "grafts", kStems);
  }
  require(!batch.started_at || *batch.started_at <= batch.at, "started_at", "is not after its end");
  require(is_stem(batch.clip), "clip_mm", "is 0.3 to 15");
  const auto within = [](std::optional<double> value, double low, double high) {
    return !value || (*value >= low && *value <= high);
  };
  require(within(batch.cut_angle_deg, 0, 90), "cut_angle_deg", "is 0 to 90");
  require(within(batch.lamp_umol, 0, kBrightest), "lamp_umol", "is 0 to 2500");
  require(within(batch.humidity_pct, 0, 100), "humidity_pct", "is 0 to 100");
}

void ranges(const BatchEvent& event, const Require& require) {
  const bool holds = event.kind == StageChange::hold;
  require(holds ? event.hours > 0 : event.hours >= 0, "hours", "is above 0 for a hold");
}

void ranges(const Loss& loss, const Require& require) {
  counted_plants(loss, require);
}

void ranges(const Cull& cull, const Require& require) {
  counted_plants(cull, require);
}

void ranges(const Tending& tending, const Require& require) {
  require(!tending.task.empty(), "task", "is not empty");
  require(tending.wilted.value_or(0) >= 0, "wilted", "is 0 or more");
}

void ranges(const Finish& finish, const Require& require) {
  require(finish.taken >= 0, "taken", kNone);
  require(finish.given >= 0 && finish.given <= finish.taken, "given",
          "is 0 or more, and no more than took");
}

void ranges(const Exposure& exposure, const Require& require) {
  const double observed = exposure.observed.value_or(0);
  require(observed >= 0 && observed <= 1, "observed", "lies between 0 and 1");
  require(is_object(exposure.document), "document", "is what the chamber said, as JSON");
}

void ranges(const PlannedSowing& line, const Require& require) {
  require(line.seeds >= 1, "seeds", kOne);
  require(line.cells >= 0, "cells", kNone);
}

void ranges(const PlannedGraft& line, const Require& require) {
  require(line.grafts >= 0, "grafts", kNone);
}

void ranges(const SetOut& set_out, const Require& require) {
  counted_plants(set_out, require);
  const auto height = set_out.union_height.value_or(Millimetres::mm(0));
  require(height >= kLowestUnion && height <= kHighestUnion, "union_height_mm", "is -300 to 1000");
  require(!set_out.union_height || kind_of_key(set_out.subject) == Kind::batch, "union_height_mm",
          "is of a batch only");
}

void ranges(const Harvest& harvest, const Require& require) {
  require(!harvest.subject.empty() || !harvest.bed.empty(), "subject",
          "is needed where no bed is named");
  require(harvest.plant.value_or(1) >= 1, "plant", kOne);
  require(!harvest.plant || !harvest.subject.empty(), "plant", "is of a batch or sowing");
  const Kilograms most = harvest.plant ? kMostOfPlant : kMostPicked;
  require(harvest.weight > Kilograms::kg(0) && harvest.weight <= most, "weight_kg",
          "is above 0, and at most 40 of one plant, 5000 of many");
  require(harvest.fruits.value_or(1) >= 1, "fruits", kOne);
}

void ranges(const Remark& remark, const Require& require) {
  require(remark.count.value_or(1) >= 1, "count", kOne);
  require(are_numbers(remark.plants, remark.count.value_or(0)), "plants", kNumbers);
  require(remark.score.has_value() == is_scored(remark.about), "score",
          "is given to taste, looks and vigour, and to nothing else");
  const double score = remark.score.value_or(0);
  require(score >= 0 && score <= kBestScore, "score", "is 0 to 10");
  require(!is_of_union(remark.about) || kind_of_key(remark.subject) == Kind::batch, "about",
          "is found on grafts only");
}

}  // namespace takehold::client
