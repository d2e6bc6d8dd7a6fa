// A file that says which seedling was grafted onto which.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "client/season/sowing.hpp"

namespace takehold::client {

/// "S12-5" under "S13-2", with their diameters where they are given. Short, as written on the
/// bench: "R7" and "S3", seedlings of the only sowing that can be meant; "G6-3": the rootstock of
/// that graft, which failed.
struct SeedlingPair {
  std::string rootstock;
  std::string scion;
  std::optional<Millimetres> rootstock_diameter{};
  std::optional<Millimetres> scion_diameter{};

  bool operator==(const SeedlingPair&) const = default;
};

/// Is it "R7" or "S3", without its sowing?
bool is_short_seedling(std::string_view name);

/// "R7-S3 R2-S9", in any case, with blanks, commas or semicolons between; "S12-5 S13-2" in full, or
/// with both diameters behind, "S12-5 S13-2 2.10 2.05"; "G6-3 S5". Refuses "bad-pairs", `where`
/// being where they were typed.
std::vector<SeedlingPair> parse_pairs(std::string text, const std::string& where);

/// Two forms: what `match --json` printed (of several pairings those of `pairing` alone), or lines
/// of parse_pairs. Blank and # lines do not count. Refuses with file:line, code "bad-pairs".
std::vector<SeedlingPair> read_pairs(std::string_view text, const std::string& file,
                                     const std::string& pairing);

}  // namespace takehold::client
