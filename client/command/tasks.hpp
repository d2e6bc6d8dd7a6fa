// What there is to do: from the accepted plan, and from how sowings and batches stand.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <vector>

#include "client/book/book.hpp"

namespace takehold::client {

/// One line of `today`.
struct Task {
  int line = 0;              ///< from 1
  sensors::Day on;           ///< when it is due; before today: late
  std::string what;          ///< stable: sow count prick measure graft stage tend hold move finish
                             ///< send
  std::string about;         ///< "QP-24", "S12", "P3", "G7"
  std::string text;          ///< for people
  std::optional<int> count;  ///< how many are planned or expected, where that means something
  std::vector<std::string> command;       ///< the words it stands for, without the program's name
  std::optional<std::size_t> count_word;  ///< which of them is the count; nothing: it takes none
  std::optional<std::string> wanted;  ///< what must be typed before it can be recorded, or nothing
};

nlohmann::json to_json(const Task& task);
/// The command as one would type it, words with blanks in quotes.
std::string command_text(const Task& task);

/// Everything due by the end of `now`'s day, late things first. The same book and moment, the same
/// lines.
std::vector<Task> tasks_at(const Book& book, sensors::Instant now);

/// Planned sowings that nothing fulfils, and planned grafts of which no batch was made yet, by day.
std::vector<Task> planned_tasks(const Book& book);

}  // namespace takehold::client
