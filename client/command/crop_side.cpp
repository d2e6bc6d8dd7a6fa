#include "client/command/crop_side.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "client/command/grown.hpp"
#include "client/command/plant_cost.hpp"
#include "client/terminal/numbers.hpp"

namespace takehold::client {

/// One batch or sowing: what was set out and what it gave.
struct Bearing {
  GrownPlants plants;
  int set_out = 0;
  double kilograms = 0;
  bool all_by_plant = true;
  std::map<int, double> by_plant{};
  std::set<std::string> beds{};
};

namespace {

Bearing bearing_of(const Book& book, const std::string& subject) {
  Bearing bearing{grown_plants(book, subject), 0, 0, true, {}, {}};
  for (const SetOut& planted : book.all<SetOut>()) {
    if (planted.subject != subject) continue;
    bearing.set_out += planted.count;
    if (!planted.bed.empty()) bearing.beds.insert(planted.bed);
  }
  for (const Harvest& picked : book.all<Harvest>()) {
    if (picked.subject != subject) continue;
    bearing.kilograms += picked.weight.kg();
    if (picked.plant) {
      bearing.by_plant[*picked.plant] += picked.weight.kg();
    } else {
      bearing.all_by_plant = false;
    }
  }
  return bearing;
}

/// Died in their beds without ever having borne.
int died_barren(const Book& book, const Bearing& bearing) {
  int barren = 0;
  for (const Loss& loss : book.all<Loss>()) {
    if (loss.subject != bearing.plants.subject || loss.late != LateLoss::bed) continue;
    if (loss.plants.empty()) barren += loss.count;
    for (const int plant : loss.plants) barren += bearing.by_plant.contains(plant) ? 0 : 1;
  }
  const int unseen = bearing.set_out - static_cast<int>(bearing.by_plant.size());
  return std::clamp(barren, 0, std::max(0, unseen));
}

int lost_in_bed(const Loss& loss, const std::string& subject) {
  return loss.subject == subject && loss.late == LateLoss::bed ? loss.count : 0;
}

}  // namespace

void CropSide::add(const std::string& subject) {
  const Bearing bearing = bearing_of(book_, subject);
  beds_.insert(bearing.beds.begin(), bearing.beds.end());
  add_remarks(subject);
  if (bearing.kilograms <= 0) return;
  const int planted = bearing.set_out > 0 ? bearing.set_out : bearing.plants.living;
  guessed_ = guessed_ || bearing.set_out == 0;
  for (const Loss& loss : book_.all<Loss>()) crop_.died += lost_in_bed(loss, subject);
  add_cost(subject, planted);
  if (bearing.all_by_plant) {
    add_by_plant(bearing, planted);
  } else {
    together_ = true;
    crop_.plants += planted;
  }
  crop_.kilograms += bearing.kilograms;
}

Crop CropSide::crop() const {
  Crop crop = crop_;
  if (together_) crop.by_plant.clear();
  if (costed_ > 0 && cost_known_) crop.cost_a_plant = cost_ / costed_;
  return crop;
}

std::vector<std::string> CropSide::doubts() const {
  std::vector<std::string> doubts;
  if (unweighed_ > 0) {
    doubts.push_back(fmt::format("{} {} {} never weighed and left out.",
                                 counted(unweighed_, "plant", "plants"), name_,
                                 unweighed_ == 1 ? "was" : "were"));
  }
  if (guessed_) {
    doubts.push_back(fmt::format(
        "How many plants {} were set out was not recorded; all that lived are counted.", name_));
  }
  return doubts;
}

void CropSide::add_by_plant(const Bearing& bearing, int planted) {
  const int barren = died_barren(book_, bearing);
  for (const auto& [plant, weight] : bearing.by_plant) crop_.by_plant.push_back(weight);
  crop_.by_plant.insert(crop_.by_plant.end(), static_cast<std::size_t>(barren), 0.0);
  const int seen = static_cast<int>(bearing.by_plant.size()) + barren;
  crop_.plants += seen;
  unweighed_ += std::max(0, planted - seen);
}

void CropSide::add_cost(const std::string& subject, int planted) {
  std::optional<double> cost;
  if (const auto batch = book_.find<Batch>(subject)) {
    cost = cost_of_grafted_plant(book_, state_of(book_, *batch), missing_);
  } else if (const auto sowing = book_.find<Sowing>(subject)) {
    cost = cost_of_seedling(book_, *sowing, missing_);
  }
  cost_known_ = cost_known_ && cost;
  cost_ += cost.value_or(0) * planted;
  costed_ += planted;
}

void CropSide::add_remarks(const std::string& subject) {
  std::set<int> sick;
  int others = 0;
  for (const Remark& remark : book_.all<Remark>()) {
    if (remark.subject != subject) continue;
    if (remark.about == RemarkAbout::taste && remark.score) crop_.tastes.push_back(*remark.score);
    if (remark.about != RemarkAbout::disease) continue;
    sick.insert(remark.plants.begin(), remark.plants.end());
    if (remark.plants.empty()) others = std::max(others, remark.count.value_or(1));
  }
  crop_.diseased += std::max(others, static_cast<int>(sick.size()));
}

}  // namespace takehold::client
