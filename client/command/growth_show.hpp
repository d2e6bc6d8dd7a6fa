// growth show: what is known of one lot's growth.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "client/book/book.hpp"
#include "client/command/bench_warmth.hpp"
#include "client/growth/lot_posterior.hpp"
#include "client/growth/stem_band.hpp"
#include "client/season/seed.hpp"
#include "client/terminal/style.hpp"

namespace takehold::client {

/// A sowing with its data, and what the fit says at each age.
struct SowingGrowth {
  std::string id{};
  SowingSeen seen{};
  std::vector<StemBand> bands{};
  std::optional<Age> now{};
};

struct GrowthShown {
  Lot lot{};
  LotSeen seen{};
  LotPosterior posterior;
  std::vector<SowingGrowth> sowings{};
  WarmthKnown warmth{};
};

GrowthShown growth_shown(const Book& book, const Lot& lot, sensors::Instant now);

/// {lot, viability, emergence, vigour, scatter, sowings[{id, counts, stems, band}]}
nlohmann::json growth_json(const GrowthShown& shown);
std::string growth_text(const GrowthShown& shown, const TerminalStyle& style);

}  // namespace takehold::client
