// ranking: varieties in order of the grower's own scores.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "client/book/book.hpp"
#include "client/season/crop.hpp"
#include "client/takes/ranking.hpp"

namespace takehold::client {

struct RankedVariety {
  Ranked ranked{};          ///< by its name, "(grafted)" behind it where it was
  bool first_time = false;  ///< never sown before that season
};

/// The last season in which anything was scored so; "" where nothing was.
std::string last_scored(const Book& book, RemarkAbout about);

/// Of scores given in that season. Plants on a rootstock stand apart from those on their own roots.
std::vector<RankedVariety> ranking_in(const Book& book, const std::string& season,
                                      RemarkAbout about);

/// "1", or "1=" where others share it.
std::string place_text(const std::vector<RankedVariety>& all, const RankedVariety& one);

nlohmann::json ranking_json(const std::vector<RankedVariety>& all);

}  // namespace takehold::client
