// Growth curves that level off: what `growth fit` knows.
#pragma once

#include <array>
#include <span>
#include <string_view>
#include <vector>

namespace takehold::client {

enum class Curve {
  logistic,  ///< A / (1 + exp(b - k x))
  gompertz,  ///< A exp(-b exp(-k x))
  richards,  ///< A / (1 + exp(b - k x))^(1/m)
  bounded,   ///< A (1 - exp(-k x)): from 0, ever slower
};
inline constexpr std::array kAllCurves{Curve::logistic, Curve::gompertz, Curve::richards,
                                       Curve::bounded};

std::string_view curve_name(Curve curve);     ///< "logistic"
std::string_view curve_formula(Curve curve);  ///< "A / (1 + exp(b - k x))"

/// "A", "b", "k", "m": in the order of all parameter lists. A, the asymptote, is always the first.
std::span<const std::string_view> parameter_names(Curve curve);

/// Height at x. Not finite where the parameters make no curve.
double curve_height(Curve curve, std::span<const double> parameters, double x);
/// d height / d parameter, each.
std::vector<double> curve_slopes(Curve curve, std::span<const double> parameters, double x);

}  // namespace takehold::client
