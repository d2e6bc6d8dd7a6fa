#include "client/season/kind.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <utility>

namespace takehold::client {
namespace {

struct KindRow {
  Kind kind;
  std::string_view name;
  char letter;
};

constexpr KindRow kRows[] = {
    {Kind::season, "season", 0},
    {Kind::bench, "bench", 0},
    {Kind::bed, "bed", 0},
    {Kind::variety, "variety", 0},
    {Kind::lot, "lot", 0},
    {Kind::lot_test, "lot_test", 0},
    {Kind::seed_count, "seed_count", 'R'},
    {Kind::pairing, "pairing", 'P'},
    {Kind::own_root, "own_root", 0},
    {Kind::sowing, "sowing", 'S'},
    {Kind::emerged, "emerged", 'R'},
    {Kind::thinning, "thinning", 'R'},
    {Kind::pricking, "pricking", 'R'},
    {Kind::measurement, "measurement", 'R'},
    {Kind::move, "move", 'R'},
    {Kind::batch, "batch", 'G'},
    {Kind::batch_event, "batch_event", 'R'},
    {Kind::loss, "loss", 'R'},
    {Kind::cull, "cull", 'R'},
    {Kind::finish, "finish", 'R'},
    {Kind::exposure, "exposure", 'R'},
    {Kind::planned_sowing, "planned_sowing", 'R'},
    {Kind::planned_graft, "planned_graft", 'R'},
    {Kind::season_close, "season_close", 'R'},
    {Kind::set_out, "set_out", 'R'},
    {Kind::harvest, "harvest", 'R'},
    {Kind::remark, "remark", 'R'},
    {Kind::tending, "tending", 'R'},
};

const KindRow& row_of(Kind kind) {
  return *std::find_if(std::begin(kRows), std::end(kRows),
                       [kind](const KindRow& row) { return row.kind == kind; });
}

}  // namespace

std::string_view kind_name(Kind kind) {
  return row_of(kind).name;
}

std::optional<Kind> kind_of_name(std::string_view name) {
  for (const KindRow& row : kRows)
    if (row.name == name) return row.kind;
  return std::nullopt;
}

char kind_letter(Kind kind) {
  return row_of(kind).letter;
}

std::optional<Kind> kind_of_key(std::string_view key) {
  const auto digit = [](unsigned char c) { return std::isdigit(c) != 0; };
  if (key.size() < 2 || !std::all_of(key.begin() + 1, key.end(), digit)) return std::nullopt;
  switch (std::toupper(static_cast<unsigned char>(key[0]))) {
    case 'S':
      return Kind::sowing;
    case 'G':
      return Kind::batch;
    case 'P':
      return Kind::pairing;
    default:
      return std::nullopt;
  }
}

}  // namespace takehold::client
