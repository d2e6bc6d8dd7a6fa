#include "daemon/watch/compromise.hpp"

#include <algorithm>

#include "daemon/watch/wording.hpp"

namespace takehold::daemon {

namespace {

const Asks* asks_of_label(std::span<const BatchAsks> batches, const std::string& label) {
  const auto found = std::find_if(batches.begin(), batches.end(),
                                  [&](const BatchAsks& one) { return one.label == label; });
  return found == batches.end() ? nullptr : &found->asks;
}

/// "humidity held at 95-100 %, asked 65-80 %: 15.0 % over"
template <class Q>
std::string gap(const char* what, const std::optional<SharedBand<Q>>& held,
                const std::optional<Band<Q>>& asked) {
  if (!held || !asked) return "";
  const double over = number_of(held->band.low) - number_of(asked->high);
  const double under = number_of(asked->low) - number_of(held->band.high);
  const double off = std::max(over, under);
  std::string text =
      std::string(what) + " is held at " + worded(held->band) + ", it asks for " + worded(*asked);
  if (off > 0) {
    text += ": at least " + worded(quantity_of<Q>(off)) + (over > under ? " over" : " under");
  }
  return text;
}

std::string told(const AskConflict& conflict, const Asks& own, const SharedAsks& shared) {
  if (conflict.about == "temperature") {
    return gap("temperature", shared.temperature, own.temperature);
  }
  if (conflict.about == "humidity") return gap("humidity", shared.humidity, own.humidity);
  return gap("vapour pressure deficit", shared.vapour_deficit, own.vapour_deficit);
}

}  // namespace

std::vector<Compromised> compromised(std::span<const BatchAsks> batches, const SharedAsks& shared) {
  std::vector<Compromised> found;
  for (const auto& conflict : shared.conflicts) {
    const Asks* own = asks_of_label(batches, conflict.older);
    if (own == nullptr || conflict.about == "light") continue;
    const auto known = std::find_if(found.begin(), found.end(),
                                    [&](const auto& one) { return one.label == conflict.older; });
    if (known != found.end()) {
      known->text += "; " + told(conflict, *own, shared);
      continue;
    }
    found.push_back({conflict.older, conflict.older + " and " + conflict.younger +
                                         " cannot both have what they ask for, and the younger " +
                                         conflict.younger + " rules. For " + conflict.older + ", " +
                                         told(conflict, *own, shared)});
  }
  return found;
}

}  // namespace takehold::daemon
