#include "client/command/growth_fit.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <nlohmann/json.hpp>

#include "client/command/context.hpp"
#include "client/terminal/curve_chart.hpp"
#include "client/terminal/numbers.hpp"
#include "client/terminal/table.hpp"
#include "client/terminal/text_width.hpp"

namespace takehold::client {
namespace {

using nlohmann::json;

std::vector<double> numbers_in(std::string_view text, std::string_view between, bool& all) {
  std::vector<double> numbers;
  all = true;
  while (!text.empty()) {
    const auto end = std::min(text.find_first_of(between), text.size());
    const std::string_view word = text.substr(0, end);
    text.remove_prefix(std::min(text.size(), end + 1));
    if (word.empty()) continue;
    const auto number = parse_typed(word, "");
    all = all && number && number->suffix.empty();
    if (number) numbers.push_back(number->value);
  }
  return numbers;
}

double furthest(const std::vector<CurvePoint>& points) {
  double x = points.front().x;
  for (const CurvePoint& point : points) x = std::max(x, point.x);
  return x;
}

/// Its height at x, unless x lies beyond the points of a fit that does not carry that.
std::optional<double> foretold(const CurveFit& fit, const std::vector<CurvePoint>& points,
                               double x) {
  if (x > furthest(points) && !fit.supports_asymptote()) return std::nullopt;
  return fit.height(x);
}

json fit_json(const CurveTried& tried, const std::vector<CurvePoint>& points,
              std::optional<double> at) {
  json document{{"curve", std::string(curve_name(tried.curve))},
                {"formula", std::string(curve_formula(tried.curve))},
                {"parameters", nullptr},
                {"residual_sd", nullptr},
                {"residual_sum", nullptr},
                {"asymptote_supported", nullptr},
                {"at", nullptr},
                {"trouble", nullptr}};
  if (!tried.fit) {
    document["trouble"] = tried.fit.error().sentence();
    return document;
  }
  const auto names = parameter_names(tried.curve);
  document["parameters"] = json::object();
  for (std::size_t i = 0; i < names.size(); ++i) {
    const auto& error = tried.fit->standard_errors[i];
    document["parameters"][std::string(names[i])] = {
        {"value", tried.fit->parameters[i]}, {"standard_error", error ? json(*error) : json()}};
  }
  document["residual_sd"] = tried.fit->residual_sd;
  document["residual_sum"] = tried.fit->residual_sum;
  document["asymptote_supported"] = tried.fit->supports_asymptote();
  const auto height = at ? foretold(*tried.fit, points, *at) : std::nullopt;
  if (height) document["at"] = {{"x", *at}, {"y", *height}};
  return document;
}

std::string chart_of(const std::vector<CurvePoint>& points, const CurveFit& fit,
                     const TerminalStyle& style) {
  constexpr int kSteps = 120;
  CurveChart chart;
  chart.width = std::clamp(style.width - 12, 20, 70);
  chart.y_name = fmt::format("y, with the {} fitted", curve_name(fit.curve));
  chart.x_name = "x";
  chart.x_decimals = 1;
  double first = points.front().x;
  for (const CurvePoint& point : points) {
    chart.points.push_back({point.x, point.y});
    first = std::min(first, point.x);
  }
  for (int i = 0; i <= kSteps; ++i) {
    const double x = first + (furthest(points) - first) * i / kSteps;
    chart.curve.push_back({x, fit.height(x)});
  }
  return curve_chart_text(chart, style);
}

}  // namespace

std::vector<CurvePoint> read_points(std::string_view text, const std::string& file) {
  std::vector<CurvePoint> points;
  for (int number = 1; !text.empty(); ++number) {
    const auto end = std::min(text.find('\n'), text.size());
    std::string_view line = text.substr(0, end);
    text.remove_prefix(std::min(text.size(), end + 1));
    while (!line.empty() && (line.back() == '\r' || line.back() == ' ')) line.remove_suffix(1);
    if (line.empty() || line.front() == '#') continue;
    bool plain = false;
    auto two = numbers_in(line, ";\t ", plain);
    if (two.size() != 2 || !plain) two = numbers_in(line, ",;\t ", plain);
    if (two.empty() && points.empty()) continue;  // names
    if (two.size() != 2 || !plain) {
      throw sensors::Refused({"bad-table", fmt::format("\"{}\" is no pair of numbers", line), "",
                              fmt::format("{}:{}", file, number), "a line reads: 14, 10.80"});
    }
    points.push_back({two[0], two[1]});
  }
  if (points.empty()) throw sensors::Refused({"bad-table", "no points in it", "", file, ""});
  return points;
}

std::vector<CurveTried> fit_all(const std::vector<CurvePoint>& points, const std::string& curve,
                                const std::string& start) {
  std::optional<std::vector<double>> from;
  if (!start.empty()) {
    bool plain = false;
    from = numbers_in(start, ",; ", plain);
    const auto wanted = [&](Curve one) {
      return curve_name(one) == curve && parameter_names(one).size() == from->size();
    };
    if (!plain || std::none_of(kAllCurves.begin(), kAllCurves.end(), wanted)) {
      throw WrongUsage({"bad-start", "as many numbers as the curve has parameters", "", "--start",
                        "growth fit FILE --curve logistic --start 100,1,0.1"});
    }
  }
  std::vector<CurveTried> fits;
  for (const Curve one : kAllCurves) {
    if (curve.empty() || curve_name(one) == curve) {
      fits.push_back({one, fit_curve(one, points, from)});
    }
  }
  std::stable_sort(fits.begin(), fits.end(), [](const CurveTried& a, const CurveTried& b) {
    if (!a.fit || !b.fit) return a.fit.has_value() && !b.fit.has_value();
    return a.fit->residual_sd < b.fit->residual_sd;
  });
  return fits;
}

json fits_json(const std::vector<CurvePoint>& points, const std::vector<CurveTried>& fits,
               std::optional<double> at) {
  json list = json::array();
  for (const CurveTried& tried : fits) list.push_back(fit_json(tried, points, at));
  return {{"points", points.size()}, {"fits", std::move(list)}};
}

std::string fits_text(const std::vector<CurvePoint>& points, const std::vector<CurveTried>& fits,
                      std::optional<double> at, const TerminalStyle& style) {
  std::string text = fmt::format("{} points\n", points.size());
  Table table({{"curve"}, {""}, {"value", Align::decimal}, {"standard error", Align::decimal}});
  std::string said;
  for (const CurveTried& tried : fits) {
    const std::string name(curve_name(tried.curve));
    if (!tried.fit) {
      said += wrapped(name + ": " + tried.fit.error().sentence(), style.width) + "\n";
      continue;
    }
    const auto names = parameter_names(tried.curve);
    for (std::size_t i = 0; i < names.size(); ++i) {
      const auto& error = tried.fit->standard_errors[i];
      table.add({i == 0 ? name : "", std::string(names[i]),
                 fmt::format("{:.7g}", tried.fit->parameters[i]),
                 error ? fmt::format("{:.3g}", *error) : "none"});
    }
    table.add({"", "left over (sd)", fmt::format("{:.4g}", tried.fit->residual_sd), ""});
    if (!tried.fit->supports_asymptote()) {
      said += wrapped(name +
                          ": the points do not say where it levels off; nothing is foretold "
                          "beyond them.",
                      style.width) +
              "\n";
    }
    if (!at) continue;
    const auto height = foretold(*tried.fit, points, *at);
    said += fmt::format("{} at {:g}: {}\n", name, *at,
                        height ? fmt::format("{:.6g}", *height) : "beyond what the points carry");
  }
  if (!fits.empty() && fits.front().fit) text += chart_of(points, *fits.front().fit, style);
  return text + table.text(style) + said;
}

}  // namespace takehold::client
