// growth fit: growth curves fitted to a table of x and y.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "client/growth/curve_fit.hpp"
#include "client/terminal/style.hpp"

namespace takehold::client {

/// One curve: its fit, or why there is none.
struct CurveTried {
  Curve curve{};
  sensors::Result<CurveFit> fit;
};

/// Two numbers a line: commas, semicolons, blanks or tabs between them; a decimal comma only where
/// the two are not parted by one. Blank lines, # lines and a first line of names do not count. Code
/// "bad-table", `where` file:line.
std::vector<CurvePoint> read_points(std::string_view text, const std::string& file);

/// All curves, or the one named; `start` is its first parameters, as "100,1,0.1". The best first.
std::vector<CurveTried> fit_all(const std::vector<CurvePoint>& points, const std::string& curve,
                                const std::string& start);

/// {points, fits[{curve, formula, parameters, residual_sd, asymptote_supported, ...}], at}
nlohmann::json fits_json(const std::vector<CurvePoint>& points, const std::vector<CurveTried>& fits,
                         std::optional<double> at);
std::string fits_text(const std::vector<CurvePoint>& points, const std::vector<CurveTried>& fits,
                      std::optional<double> at, const TerminalStyle& style);

}  // namespace takehold::client
