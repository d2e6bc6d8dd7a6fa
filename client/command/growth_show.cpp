#include "client/command/growth_show.hpp"

#include <fmt/format.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "client/command/lot_seen.hpp"
#include "client/growth/stem.hpp"
#include "client/terminal/curve_chart.hpp"
#include "client/terminal/numbers.hpp"
#include "client/terminal/text_width.hpp"

namespace takehold::client {
namespace {

using nlohmann::json;

constexpr int kShownDays = 28;  // from sowing on, at least
constexpr int kDaysBeyond = 7;  // after today

/// A logarithm's marginal as the factor it stands for.
json factor_json(const Marginal& ln) {
  return {{"median", std::exp(ln.quantile(0.5))},
          {"p05", std::exp(ln.quantile(0.05))},
          {"p95", std::exp(ln.quantile(0.95))}};
}

std::string percent_text(const Marginal& ln) {
  const auto percent = [&](double share) { return 100 * (std::exp(ln.quantile(share)) - 1); };
  return fmt::format("{:+.0f} % (9 in 10: {:+.0f} to {:+.0f} %)", percent(0.5), percent(0.05),
                     percent(0.95));
}

bool is_measured(const LotSeen& seen) {
  for (const SowingSeen& sowing : seen.sowings) {
    if (!sowing.seedlings.empty()) return true;
  }
  return false;
}

std::string chart_of(const SowingGrowth& sowing, const TerminalStyle& style) {
  const double unit = style.units == Units::us ? 25.4 : 1;
  CurveChart chart;
  chart.x_name = "days since sowing";
  chart.y_name = std::string(unit_of_length(style.units)) + " below the seed leaves";
  chart.y_decimals = style.units == Units::us ? 3 : 1;
  chart.width = std::clamp(style.width - 8, 20, 70);
  for (const SeedlingSeen& seedling : sowing.seen.seedlings) {
    for (const StemSeen& stem : seedling.readings) {
      chart.points.push_back({stem.at.count(), stem.diameter.mm() / unit});
    }
  }
  for (const StemBand& band : sowing.bands) {
    chart.curve.push_back(
        {band.age.count(), band.middle.mm() / unit, band.low.mm() / unit, band.high.mm() / unit});
  }
  return curve_chart_text(chart, style);
}

std::string counts_of(const SowingGrowth& sowing) {
  std::string text;
  for (const CountSeen& count : sowing.seen.counts) {
    text += fmt::format("{}{} up after {:.0f} days", text.empty() ? "" : ", ", count.up,
                        count.at.count());
  }
  return text.empty() ? "not counted yet" : text;
}

json sowing_json(const SowingGrowth& sowing) {
  json counts = json::array(), stems = json::array(), bands = json::array();
  for (const CountSeen& count : sowing.seen.counts) {
    counts.push_back({{"age_days", count.at.count()}, {"up", count.up}});
  }
  for (const SeedlingSeen& seedling : sowing.seen.seedlings) {
    for (const StemSeen& stem : seedling.readings) {
      stems.push_back({{"number", seedling.number},
                       {"age_days", stem.at.count()},
                       {"diameter_mm", stem.diameter.mm()}});
    }
  }
  for (const StemBand& band : sowing.bands) {
    bands.push_back({{"age_days", band.age.count()},
                     {"up_share", band.up},
                     {"p05_mm", band.low.mm()},
                     {"p50_mm", band.middle.mm()},
                     {"p95_mm", band.high.mm()}});
  }
  return {{"id", sowing.id},
          {"seeds", sowing.seen.seeds},
          {"counts", std::move(counts)},
          {"stems", std::move(stems)},
          {"band", std::move(bands)}};
}

SowingGrowth sowing_growth(const Book& book, const Sowing& sowing, GrowthShown& shown,
                           sensors::Instant now) {
  const LivedWarmth warmth = warmth_of(book, sowing, now);
  shown.warmth.add(warmth);
  SowingGrowth growth;
  growth.id = sowing.id;
  growth.seen = sowing_seen(book, sowing, warmth, now);
  growth.now = std::chrono::duration_cast<Age>(now - sowing.at);
  const int last = std::max(kShownDays, static_cast<int>(growth.now->count()) + kDaysBeyond);
  std::vector<Age> ages;
  for (int day = 1; day <= std::min<int>(last, kSeedlingLife.count()); ++day) {
    ages.push_back(Age(day));
  }
  growth.bands = stem_bands(shown.posterior, shown.seen.species, *growth.seen.course, ages);
  return growth;
}

}  // namespace

GrowthShown growth_shown(const Book& book, const Lot& lot, sensors::Instant now) {
  const LotSeen seen = lot_seen(book, lot, now);
  GrowthShown shown{lot, seen, LotPosterior(seen), {}, {}};
  for (const Sowing& sowing : book.all<Sowing>()) {
    if (sowing.lot != lot.label || sowing.at > now || sowing.at < now - kSeedlingLife) continue;
    shown.sowings.push_back(sowing_growth(book, sowing, shown, now));
  }
  return shown;
}

json growth_json(const GrowthShown& shown) {
  const Marginal& share = shown.posterior.viability();
  json sowings = json::array();
  for (const SowingGrowth& sowing : shown.sowings) sowings.push_back(sowing_json(sowing));
  return {{"lot", shown.lot.label},
          {"variety", shown.lot.variety},
          {"viability",
           {{"mean", share.mean()}, {"p05", share.quantile(0.05)}, {"p95", share.quantile(0.95)}}},
          {"emergence", factor_json(shown.posterior.ln_emergence())},
          {"vigour", factor_json(shown.posterior.ln_vigour())},
          {"scatter", factor_json(shown.posterior.ln_scatter())},
          {"measured", is_measured(shown.seen)},
          {"warmth",
           {{"past_hours", shown.warmth.past_hours},
            {"logged_hours", shown.warmth.logged_hours},
            {"missing_hours", shown.warmth.missing_hours}}},
          {"sowings", std::move(sowings)}};
}

std::string growth_text(const GrowthShown& shown, const TerminalStyle& style) {
  const LotPosterior& lot = shown.posterior;
  const Marginal& share = lot.viability();
  std::string text = fmt::format("{} ({})\n", shown.lot.label, shown.lot.variety);
  text += fmt::format("alive:      {:.0f} in 100 seeds (9 in 10: {:.0f} to {:.0f})\n",
                      100 * share.mean(), 100 * share.quantile(0.05), 100 * share.quantile(0.95));
  text += "coming up:  " + percent_text(lot.ln_emergence()) + " days against the published table\n";
  text += "thickening: " + percent_text(lot.ln_vigour()) + " faster than assumed of a tomato\n";
  text += fmt::format("seedlings:  differ by {:.0f} % of their diameter\n",
                      100 * std::exp(lot.ln_scatter().quantile(0.5)));
  if (!is_measured(shown.seen)) {
    text += wrapped(
                "No stem of it was measured yet: how fast it thickens is assumed (takehold "
                "measure).",
                style.width) +
            "\n";
  }
  for (const SowingGrowth& sowing : shown.sowings) {
    text += "\n" + sowing.id + ": " +
            fmt::format("{}, {}", counted(sowing.seen.seeds, "seed", "seeds"), counts_of(sowing)) +
            "\n" + chart_of(sowing, style);
  }
  return text;
}

}  // namespace takehold::client
