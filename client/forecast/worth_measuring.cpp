#include "client/forecast/worth_measuring.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

#include "client/growth/emergence.hpp"
#include "client/growth/stem_reading.hpp"

namespace takehold::client {
namespace {

constexpr int kDraws = 512;
constexpr auto kClip = sensors::Millimetres::mm(2.0);

/// Evenly spread over the unit cube in five dimensions: multiples of the powers of the root of
/// x^6 = x + 1, modulo 1 (a Kronecker sequence).
LotDraw draw_of(const LotPosterior& posterior, int index) {
  constexpr double kRoot = 1.1347241384015194;
  std::array<double, 5> uniforms{};
  double step = 1;
  for (double& u : uniforms) {
    step /= kRoot;
    const double at = 0.5 + step * (index + 1);
    u = std::clamp(at - std::floor(at), 1e-9, 1 - 1e-9);
  }
  return posterior.draw(uniforms);
}

LotSpeed speed_of(const LotDraw& draw) {
  return {std::exp(draw.ln_emergence), std::exp(draw.ln_vigour)};
}

/// Days from today until the middle stem is as thick as the usual clip.
double days_to_clip(const ForecastTray& tray, const LotDraw& draw) {
  const Course& course = *tray.seen.course;
  const auto age = age_at_diameter(course, speed_of(draw), StemGrowth{}, kClip);
  return (age.value_or(course.length()) - tray.age).count();
}

/// ln D of a seedling whose z stands so many sd from the middle; nothing while it is not up.
std::optional<double> ln_stem(const ForecastTray& tray, const LotDraw& draw, double ln_z) {
  LotSpeed speed = speed_of(draw);
  speed.emergence *= std::exp(ln_z);
  const auto seedling = middle_seedling(*tray.seen.course, speed, StemGrowth{}, tray.age);
  return seedling ? std::optional(std::log(seedling->diameter.mm())) : std::nullopt;
}

/// What one tray's stem would tell.
struct Tray {
  std::size_t place;      // in the request
  int available = 0;      // standing plants
  double noise = 0;       // variance of one stem's ln D about the middle stem's
  double importance = 0;  // of its day
};

/// One lot: the joint variance of (t, ln D) of its trays: t of tray i at 2i, ln D at 2i + 1.
struct LotKnown {
  std::vector<Tray> trays;
  std::vector<std::vector<double>> variance;

  double gain(std::size_t tray) const {
    const auto& row = variance[2 * tray + 1];
    const double all = row[2 * tray + 1] + trays[tray].noise;
    double gain = 0;
    for (std::size_t i = 0; i < trays.size(); ++i) {
      gain += trays[i].importance * row[2 * i] * row[2 * i] / all;
    }
    return gain;
  }
  void measure(std::size_t tray) {
    const auto row = variance[2 * tray + 1];
    const double all = row[2 * tray + 1] + trays[tray].noise;
    for (std::size_t i = 0; i < variance.size(); ++i) {
      for (std::size_t j = 0; j < variance.size(); ++j) variance[i][j] -= row[i] * row[j] / all;
    }
  }
};

double importance_of(const ForecastRequest& request, std::size_t tray) {
  double sum = 0;
  for (const ForecastPairing& pairing : request.pairings) {
    for (const auto* side : {&pairing.rootstocks, &pairing.scions}) {
      for (const TrayShare& share : *side) {
        if (share.tray == tray) sum += pairing.weight * pairing.want * (share.to - share.from);
      }
    }
  }
  return sum;
}

double noise_of(const ForecastTray& tray, const ForecastLot& lot, double mean_ln) {
  const double spread = emergence_prior(lot.seen->species).seed_spread;
  double scatter = 0, uneven = 0;
  int count = 0;
  for (int i = 0; i < kDraws; i += 16) {
    const LotDraw draw = draw_of(*lot.posterior, i);
    const auto early = ln_stem(tray, draw, -spread), late = ln_stem(tray, draw, spread);
    scatter += draw.scatter * draw.scatter;
    const double half = early ? 0.5 * (*early - late.value_or(std::log(1.1))) : 0;
    uneven += half * half;
    ++count;
  }
  const double calliper = kCalliperError.mm() / std::exp(mean_ln);
  return ((scatter + uneven) / count + calliper * calliper) / (1 - kWrongShare);
}

using Columns = std::vector<std::vector<double>>;

double mean_of(const std::vector<double>& numbers) {
  return std::accumulate(numbers.begin(), numbers.end(), 0.0) / static_cast<double>(numbers.size());
}

std::vector<std::vector<double>> variance_of(const Columns& columns) {
  std::vector<std::vector<double>> variance(columns.size(), std::vector<double>(columns.size()));
  for (std::size_t a = 0; a < columns.size(); ++a) {
    for (std::size_t b = 0; b < columns.size(); ++b) {
      double sum = 0;
      for (std::size_t i = 0; i < columns[a].size(); ++i) sum += columns[a][i] * columns[b][i];
      variance[a][b] =
          sum / static_cast<double>(columns[a].size()) - mean_of(columns[a]) * mean_of(columns[b]);
    }
  }
  return variance;
}

LotKnown known_of(const ForecastRequest& request, std::size_t lot) {
  LotKnown known;
  Columns columns;
  for (std::size_t place = 0; place < request.trays.size(); ++place) {
    const ForecastTray& tray = request.trays[place];
    const double importance = importance_of(request, place);
    if (tray.lot != lot || importance <= 0 || tray.age.count() < 0) continue;
    std::vector<double> days, stems;
    int up = 0;
    for (int i = 0; i < kDraws; ++i) {
      const LotDraw draw = draw_of(*request.lots[lot].posterior, i);
      const auto stem = ln_stem(tray, draw, 0);
      up += stem ? 1 : 0;
      days.push_back(days_to_clip(tray, draw));
      stems.push_back(stem.value_or(std::log(1.1)));
    }
    const bool can_be_measured = 2 * up > kDraws;
    known.trays.push_back({place, can_be_measured ? tray.state.standing.value_or(0) : 0,
                           noise_of(tray, request.lots[lot], mean_of(stems)), importance});
    columns.push_back(std::move(days));
    columns.push_back(std::move(stems));
  }
  known.variance = variance_of(columns);
  return known;
}

double sd(double variance) {
  return std::sqrt(std::max(0.0, variance));
}

}  // namespace

std::vector<StemsToMeasure> worth_measuring(const ForecastRequest& request,
                                            const MeasuringWork& work) {
  std::vector<LotKnown> lots;
  std::vector<std::vector<StemsToMeasure>> answers;
  double importance = 0, uncertainty = 0;
  for (std::size_t lot = 0; lot < request.lots.size(); ++lot) {
    lots.push_back(known_of(request, lot));
    answers.emplace_back();
    for (std::size_t i = 0; i < lots.back().trays.size(); ++i) {
      const Tray& tray = lots.back().trays[i];
      const double variance = lots.back().variance[2 * i][2 * i];
      answers.back().push_back({tray.place, 0, tray.available, sd(variance), 0});
      importance += tray.importance;
      uncertainty += tray.importance * variance;
    }
  }
  for (int stem = 0; stem < work.most && importance > 0; ++stem) {
    double most = 0;
    std::pair<std::size_t, std::size_t> best{};
    for (std::size_t lot = 0; lot < lots.size(); ++lot) {
      for (std::size_t i = 0; i < lots[lot].trays.size(); ++i) {
        if (answers[lot][i].stems >= lots[lot].trays[i].available) continue;
        const double gain = lots[lot].gain(i);
        if (gain > most) {
          most = gain;
          best = {lot, i};
        }
      }
    }
    const double lowered = sd(uncertainty / importance) - sd((uncertainty - most) / importance);
    if (most <= 0 || lowered < work.least_gain_days) break;
    lots[best.first].measure(best.second);
    ++answers[best.first][best.second].stems;
    uncertainty -= most;
  }
  std::vector<StemsToMeasure> all;
  for (std::size_t lot = 0; lot < lots.size(); ++lot) {
    for (std::size_t i = 0; i < answers[lot].size(); ++i) {
      answers[lot][i].sd_after_days = sd(lots[lot].variance[2 * i][2 * i]);
      all.push_back(answers[lot][i]);
    }
  }
  std::sort(all.begin(), all.end(),
            [](const StemsToMeasure& a, const StemsToMeasure& b) { return a.tray < b.tray; });
  return all;
}

ExpectedDay day_at_clip(const ForecastRequest& request, std::size_t tray) {
  const ForecastTray& one = request.trays[tray];
  double sum = 0, squares = 0;
  for (int i = 0; i < kDraws; ++i) {
    const double days = days_to_clip(one, draw_of(*request.lots[one.lot].posterior, i));
    sum += days / kDraws;
    squares += days * days / kDraws;
  }
  return {sum, sd(squares - sum * sum)};
}

}  // namespace takehold::client
