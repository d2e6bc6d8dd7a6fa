#include "draw.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace takehold::bench {

namespace {

constexpr double kWidth = 900, kLeft = 60, kPanel = 220, kGap = 40, kTop = 40;

/// One quantity's panel: seconds to the right, values upwards.
struct Panel {
  double top, least, most;
  int from, to;

  double x(int second) const {
    return kLeft + (kWidth - kLeft - 20) * (second - from) / double(to - from);
  }
  double y(double value) const { return top + kPanel * (most - value) / (most - least); }
};

void draw_band(const Panel& panel, const Range& band, std::ostream& out) {
  const double top = panel.y(std::min(band.to, panel.most));
  out << fmt::format(
      "<rect x='{:.0f}' y='{:.1f}' width='{:.1f}' height='{:.1f}' fill='#e3f1e3'/>\n", kLeft, top,
      panel.x(panel.to) - kLeft, panel.y(std::max(band.from, panel.least)) - top);
}

template <class Value>
void draw_line(const Trial& trial, const Panel& panel, Value value, const char* colour,
               std::ostream& out) {
  out << "<polyline fill='none' stroke='" << colour << "' stroke-width='1' points='";
  for (const Round& round : trial.rounds) {
    if (round.second < panel.from || round.second > panel.to || round.second % 30 != 0) continue;
    const auto v = value(round);
    if (v) out << fmt::format("{:.1f},{:.1f} ", panel.x(round.second), panel.y(*v));
  }
  out << "'/>\n";
}

void draw_scale(const Panel& panel, const char* unit, double step, std::ostream& out) {
  for (double v = panel.least; v <= panel.most + 1e-9; v += step) {
    out << fmt::format("<text x='{:.0f}' y='{:.1f}' text-anchor='end'>{:g} {}</text>\n", kLeft - 6,
                       panel.y(v) + 4, v, unit);
  }
  for (int t = (panel.from / 1800 + 1) * 1800; t < panel.to; t += 1800) {
    out << fmt::format("<text x='{:.1f}' y='{:.1f}' text-anchor='middle'>{}:{:02}</text>\n",
                       panel.x(t), panel.top + kPanel + 14, t / 3600, t / 60 % 60);
  }
}

void draw_mark(const Panel& first, const Panel& last, int second, const std::string& text,
               const char* colour, double text_y, std::ostream& out) {
  out << fmt::format(
      "<line x1='{0:.1f}' x2='{0:.1f}' y1='{1:.1f}' y2='{2:.1f}' stroke='{3}' "
      "stroke-dasharray='4 3'/><text x='{4:.1f}' y='{5:.1f}' fill='{3}'>{6}</text>\n",
      first.x(second), first.top, last.top + kPanel, colour, first.x(second) + 4, text_y, text);
}

}  // namespace

void draw(const Trial& trial, const std::vector<Said>& said, std::ostream& out) {
  const int to = std::min(kLength, trial.breach < 0 ? trial.onset + 3 * 3600 : trial.breach + 3600);
  const int from = std::max(0, trial.onset - 3600);
  const auto& asked = trial.asked;
  const Panel warm{kTop, asked.degc.from - 2, asked.degc.to + 1, from, to};
  const Panel moist{kTop + kPanel + kGap, asked.pct.from - 6, std::min(100.0, asked.pct.to + 5),
                    from, to};
  out << fmt::format(
      "<svg xmlns='http://www.w3.org/2000/svg' width='{:.0f}' height='{:.0f}' "
      "font-family='sans-serif' "
      "font-size='11'>\n<rect width='100%' height='100%' fill='white'/>\n"
      "<text x='{:.0f}' y='18' font-size='14'>{}, {} ({}): two probes, the band in green</text>\n",
      kWidth, moist.top + kPanel + 30, kLeft, to_string(trial.failure), asked.name,
      to_string(trial.maker));
  draw_band(warm, asked.degc, out);
  draw_band(moist, asked.pct, out);
  const char* colours[2] = {"#1f5fa8", "#b3541e"};
  for (int i = 0; i < 2; ++i) {
    using Value = std::optional<double>;
    draw_line(
        trial, warm, [&](const Round& r) { return r.spoke[i] ? Value(r.said[i].degc) : Value(); },
        colours[i], out);
    draw_line(
        trial, moist, [&](const Round& r) { return r.spoke[i] ? Value(r.said[i].pct) : Value(); },
        colours[i], out);
  }
  draw_scale(warm, "°C", 2, out);
  draw_scale(moist, "%", 2, out);
  draw_mark(warm, moist, trial.onset, "it fails", "#777777", warm.top + 12, out);
  if (trial.breach >= 0) {
    draw_mark(warm, moist, trial.breach, "leaves the band", "#777777", warm.top + 26, out);
  }
  double text_y = moist.top + 14;
  for (const Said& one : said) {
    if (one.second < from || one.second > to || one.event.type != daemon::EventType::warning)
      continue;
    const auto& warning = *one.event.warning;
    std::string text = fmt::format("{}: {} {} {}", warning.id(), to_string(warning.kind),
                                   to_string(warning.cause), warning.about);
    if (warning.breach_at) {
      const auto ahead = *warning.breach_at - warning.raised_at;
      text += fmt::format(", out in {} min", ahead / std::chrono::minutes(1));
    }
    draw_mark(warm, moist, one.second, text, "#b00020", text_y, out);
    text_y += 14;
  }
  out << "</svg>\n";
}

}  // namespace takehold::bench
