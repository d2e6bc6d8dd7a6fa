#include "client/command/plant_words.hpp"

namespace takehold::client {

namespace {

std::string habit_words(Habit habit) {
  switch (habit) {
    case Habit::indeterminate:
      return "pole (indeterminate)";
    case Habit::determinate:
      return "bush (determinate)";
    case Habit::dwarf:
    case Habit::micro_dwarf:
      break;
  }
  return std::string(to_text(habit));
}

}  // namespace

std::string plant_kind(const std::optional<Variety>& variety) {
  if (!variety) return "tomato";
  std::string words = variety->role == Role::rootstock ? "tomato rootstock" : "tomato";
  if (variety->habit) words += ", " + habit_words(*variety->habit);
  if (variety->fruit && !variety->fruit->empty()) words += ", " + *variety->fruit;
  return words;
}

std::string variety_of_lot(const Book& book, const std::string& lot) {
  const auto found = book.find<Lot>(lot);
  return found ? found->variety : lot;
}

int trays_for(int cells, int cells_per_tray) {
  return (cells + cells_per_tray - 1) / cells_per_tray;
}

}  // namespace takehold::client
