// One half of all grafts of a session: which seedlings, from which sowings. And the rootstocks of
// grafts that failed, which are used again.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "client/command/graft.hpp"

namespace takehold::client {

/// One half of all grafts of a session.
struct HalfOrder {
  const char* option;  ///< "--rootstock-from"
  const char* word;    ///< "rootstock"
  std::string variety;
  std::vector<std::string> from;       ///< sowings as typed
  std::vector<std::string> seedlings;  ///< named ones
  bool again = false;  ///< rootstocks whose grafts failed: they do not stand in trays
};

/// "R7" as the seventh seedling of the only sowing that can be meant: code "which-sowing".
std::string in_full(const Book& book, const HalfOrder& half, const std::string& seedling);

/// Checks one half and gives the sowings it is taken from.
std::vector<std::string> take_half(const Book& book, const HalfOrder& half, int wanted);

/// The batch whose failed grafts the order makes again: of the same rootstock, with enough failures
/// left. Codes "wrong-pairing", "more-than-failed".
std::optional<Batch> repaired_batch(const Book& book, const GraftOrder& order,
                                    const Pairing& pairing, int count);

/// "G6-3" as the rootstock that stands under that graft, which must have failed: code "not-failed".
std::string rootstock_again(const Book& book, const std::optional<Batch>& failed,
                            const std::string& name);

}  // namespace takehold::client
