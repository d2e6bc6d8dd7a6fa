// Grafts that failed, made again on their rootstocks.
#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "client/command/graft_halves.hpp"
#include "client/command/standing.hpp"

namespace takehold::client {

/// The failed batch, where one is repaired: of the same rootstock, with enough failures left.
std::optional<Batch> repaired_batch(const Book& book, const GraftOrder& order,
                                    const Pairing& pairing, int count) {
  if (order.repairs.empty()) return std::nullopt;
  const Batch failed = find_numbered<Batch>(book, order.repairs);
  if (failed.rootstock != pairing.rootstock) {
    refuse(
        "wrong-pairing",
        fmt::format("{} stands on {}, not on {}", failed.id, failed.rootstock, pairing.rootstock),
        "--repairs");
  }
  int left = state_of(book, failed).lost;
  for (const Batch& other : book.all<Batch>())
    left -= other.repairs == failed.id ? other.count() : 0;
  if (count > left) {
    refuse("more-than-failed",
           fmt::format("{} to repair, but of {} {} failed and not repaired yet", count, failed.id,
                       left == 1 ? "1 is" : fmt::format("{} are", std::max(0, left))),
           "--repairs", "what failed is told first: takehold lose " + failed.id + " --count N");
  }
  return failed;
}

/// "G6-3" as the rootstock that stands under that graft, which must have failed.
std::string rootstock_again(const Book& book, const std::optional<Batch>& failed,
                            const std::string& name) {
  if (!name.starts_with('G')) return name;
  const int number = std::stoi(name.substr(name.find('-') + 1));
  if (!failed || name.substr(0, name.find('-')) != failed->id) {
    refuse("not-failed", "only rootstocks of the batch that is repaired are meant so", name,
           "say --repairs " + name.substr(0, name.find('-')));
  }
  std::set<int> lost;
  for (const Loss& loss : book.all<Loss>()) {
    if (loss.subject == failed->id) lost.insert(loss.plants.begin(), loss.plants.end());
  }
  const bool numbered = static_cast<int>(lost.size()) == state_of(book, *failed).lost;
  if (number < 1 || number > failed->count() || (numbered && !lost.contains(number))) {
    refuse("not-failed", "this graft did not fail", name);
  }
  return failed->grafts[static_cast<std::size_t>(number - 1)].rootstock;
}

}  // namespace takehold::client
