// Both ends of the allowed range rise with the rootstock's diameter and |x - y| is Monge
// (uncrossing two crossing pairs never adds mismatch and never leaves the range), so among the best
// matchings of the sorted lists there is one without crossings. Such a matching is an alignment of
// two sequences:
//
//   best(i, j) = max( best(i-1, j), best(i, j-1), best(i-1, j-1) + worth(i, j) if allowed )
//
// The three aims in their order are one whole number: worth = pair - mismatch * unit + same_clip,
// with `unit` above any number of clips and `pair` above any sum of mismatches.
#include "client/match/matching.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <cstdint>
#include <cstdlib>
#include <numeric>

#include "sensors/quantity/problem.hpp"

namespace takehold::client {
namespace {

constexpr Micrometres kWidest = 1'000'000;  // 1 m: a bound for the arithmetic, not for plants

struct Sorted {
  std::vector<std::size_t> place;  // in the list given
  std::vector<Micrometres> um;
  std::vector<Micrometres> clip;
};

Sorted sort_stems(std::span<const Micrometres> stems, const char* side) {
  if (stems.size() > kMostStems) {
    throw sensors::Refused({"too-many-stems", fmt::format("{} {} at once", stems.size(), side),
                            fmt::format("at most {} can be matched", kMostStems), "", ""});
  }
  for (const Micrometres um : stems) check_diameter(um, side);
  Sorted sorted;
  sorted.place.resize(stems.size());
  std::iota(sorted.place.begin(), sorted.place.end(), std::size_t{0});
  std::stable_sort(sorted.place.begin(), sorted.place.end(),
                   [&](std::size_t a, std::size_t b) { return stems[a] < stems[b]; });
  for (const std::size_t place : sorted.place) {
    sorted.um.push_back(stems[place]);
    sorted.clip.push_back(clip_size(stems[place]));
  }
  return sorted;
}

// What one pair is worth. The largest number met is about k * (k + 1) * (k * widest mismatch + 1)
// for k pairs: below 4e18 for what Weights::of admits, and 64 bits hold 9e18.
struct Weights {
  std::int64_t unit;
  std::int64_t pair;

  static Weights of(const Sorted& x, const Sorted& y) {
    const auto k = static_cast<std::int64_t>(std::min(x.um.size(), y.um.size()));
    const Micrometres widest =
        k == 0 ? 0 : std::max(x.um.back() - y.um.front(), y.um.back() - x.um.front());
    const std::int64_t unit = k + 1;
    return {unit, unit * (k * std::max<Micrometres>(widest, 0) + 1)};
  }
};

enum class Step : std::uint8_t { skip_rootstock, skip_scion, join };

// The scions that rootstock x may carry: [first, last). Both rise with x, so the walk never
// returns; an equal scion is always allowed, so what lies on the far side of x never hides the near
// side.
struct Range {
  std::size_t first = 0;
  std::size_t last = 0;

  void move_to(Micrometres x, const std::vector<Micrometres>& y, const Tolerance& tolerance) {
    while (first < y.size() && y[first] < x && !tolerance.allows(x, y[first])) ++first;
    last = std::max(last, first);
    while (last < y.size() && (y[last] <= x || tolerance.allows(x, y[last]))) ++last;
  }
};

// The decisions of the programme, one byte a cell, of the allowed cells alone. Left of a row's
// range nothing is joined any more, so the row above holds; right of it nothing was joined yet, so
// the range's last cell does.
class Steps {
 public:
  explicit Steps(std::size_t cells) { cells_.reserve(cells); }
  void add_row(const Range& range) {
    rows_.push_back({range, cells_.size()});
    cells_.resize(cells_.size() + (range.last - range.first));
  }
  Step* row() { return cells_.data() + rows_.back().begin; }
  Step at(std::size_t i, std::size_t j) const {
    const Row& row = rows_[i];
    if (j < row.range.first) return Step::skip_rootstock;
    if (j >= row.range.last) return Step::skip_scion;
    return cells_[row.begin + j - row.range.first];
  }

 private:
  struct Row {
    Range range;
    std::size_t begin;
  };
  std::vector<Row> rows_{};
  std::vector<Step> cells_{};
};

std::size_t allowed_pairs(const Sorted& x, const Sorted& y, const Tolerance& tolerance) {
  std::size_t pairs = 0;
  Range range;
  for (const Micrometres um : x.um) {
    range.move_to(um, y.um, tolerance);
    pairs += range.last - range.first;
  }
  return pairs;
}

Steps align(const Sorted& x, const Sorted& y, const Tolerance& tolerance) {
  const Weights weights = Weights::of(x, y);
  std::vector<std::int64_t> scaled;  // so that a pair is worth `pair` less two of these
  for (const Micrometres um : y.um) scaled.push_back(weights.unit * um);
  Steps steps(allowed_pairs(x, y, tolerance));
  std::vector<std::int64_t> best(y.um.size() + 1, 0);  // of the row above, overwritten in its range
  Range range;
  for (std::size_t i = 0; i < x.um.size(); ++i) {
    const std::size_t known = range.last;
    range.move_to(x.um[i], y.um, tolerance);
    std::fill(best.begin() + static_cast<std::ptrdiff_t>(known),
              best.begin() + static_cast<std::ptrdiff_t>(range.last) + 1, best[known]);
    steps.add_row(range);
    Step* step = steps.row();
    const std::int64_t mine = weights.unit * x.um[i];
    const Micrometres clip = x.clip[i];
    std::int64_t diagonal = best[range.first];
    std::int64_t left = diagonal;
    for (std::size_t j = range.first; j < range.last; ++j) {
      const std::int64_t above = best[j + 1];
      const std::int64_t joined =
          diagonal + weights.pair - std::abs(mine - scaled[j]) + (clip == y.clip[j] ? 1 : 0);
      std::int64_t now = std::max(above, left);
      Step done = left > above ? Step::skip_scion : Step::skip_rootstock;
      done = joined > now ? Step::join : done;
      now = std::max(now, joined);
      *step++ = done;
      diagonal = above;
      best[j + 1] = left = now;
    }
  }
  return steps;
}

std::vector<std::size_t> unused(const std::vector<bool>& used) {
  std::vector<std::size_t> left;
  for (std::size_t i = 0; i < used.size(); ++i) {
    if (!used[i]) left.push_back(i);
  }
  return left;
}

}  // namespace

void check_diameter(Micrometres um, const char* side) {
  if (um >= 0 && um <= kWidest) return;
  throw sensors::Refused(
      {"bad-diameter", fmt::format("{} µm is not a stem's diameter", um), "", side, ""});
}

Micrometres clip_size(Micrometres diameter) {
  if (diameter <= 1750) return 1500;
  return diameter <= 2250 ? 2000 : 2500;
}

Matching match_stems(std::span<const Micrometres> rootstocks, std::span<const Micrometres> scions,
                     const Tolerance& tolerance) {
  const Sorted x = sort_stems(rootstocks, "rootstocks");
  const Sorted y = sort_stems(scions, "scions");
  const Steps steps = align(x, y, tolerance);
  Matching matching;
  std::vector<bool> rootstock_used(x.um.size());
  std::vector<bool> scion_used(y.um.size());
  for (std::size_t i = x.um.size(), j = y.um.size(); i > 0 && j > 0;) {
    const Step step = steps.at(i - 1, j - 1);
    if (step != Step::skip_scion) --i;
    if (step != Step::skip_rootstock) --j;
    if (step != Step::join) continue;
    assert(tolerance.allows(x.um[i], y.um[j]));
    const Micrometres mismatch = std::abs(x.um[i] - y.um[j]);
    matching.pairs.push_back({x.place[i], y.place[j], mismatch});
    matching.mismatch_total += mismatch;
    rootstock_used[x.place[i]] = scion_used[y.place[j]] = true;
  }
  std::sort(matching.pairs.begin(), matching.pairs.end(),
            [](const StemPair& a, const StemPair& b) { return a.rootstock < b.rootstock; });
  matching.rootstocks_left_over = unused(rootstock_used);
  matching.scions_left_over = unused(scion_used);
  return matching;
}

std::size_t count_matches(std::span<const Micrometres> sorted_rootstocks,
                          std::span<const Micrometres> sorted_scions, const Tolerance& tolerance) {
  std::size_t count = 0;
  for (std::size_t i = 0, j = 0; i < sorted_rootstocks.size() && j < sorted_scions.size();) {
    if (tolerance.allows(sorted_rootstocks[i], sorted_scions[j])) {
      ++count;
      ++i;
      ++j;
    } else if (sorted_rootstocks[i] < sorted_scions[j]) {
      ++i;
    } else {
      ++j;
    }
  }
  return count;
}

}  // namespace takehold::client
