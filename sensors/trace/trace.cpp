#include "sensors/trace/trace.hpp"

#include <algorithm>
#include <cassert>

namespace takehold::sensors {
namespace {

using std::chrono::milliseconds;

/// A straight piece of the trace.
struct Line {
  Instant from, to;
  double at_from, at_to;

  double at(Instant t) const {
    if (to == from) return at_from;
    const double share = double((t - from).count()) / double((to - from).count());
    return at_from + share * (at_to - at_from);
  }
};

std::optional<Line> line_between(const Sample& a, const Sample& b, milliseconds longest) {
  if (!a.value || !b.value || b.at - a.at > longest) return std::nullopt;
  return Line{a.at, b.at, *a.value, *b.value};
}

void widen(Bucket& bucket, double value) {
  bucket.min = bucket.min ? std::min(*bucket.min, value) : value;
  bucket.max = bucket.max ? std::max(*bucket.max, value) : value;
}

/// Until finish(), `mean` holds the integral over time in value·ms.
void add_line(Bucket& bucket, const Line& line) {
  const Instant from = std::max(line.from, bucket.span.from);
  const Instant to = std::min(line.to, bucket.span.to);
  if (to <= from) return;
  const double first = line.at(from);
  const double last = line.at(to);
  bucket.mean = bucket.mean.value_or(0.0) + 0.5 * (first + last) * double((to - from).count());
  bucket.observed += to - from;
  widen(bucket, first);
  widen(bucket, last);
}

class Cutter {
 public:
  Cutter(TimeSpan within, int count) : within_(within), count_(count) {
    buckets_.resize(std::size_t(count));
    for (int i = 0; i < count; ++i) buckets_[std::size_t(i)].span = {border(i), border(i + 1)};
  }

  void add(const Line& line) {
    if (line.to <= within_.from || line.from >= within_.to) return;
    for (int i = index_of(std::max(line.from, within_.from)); i < count_; ++i) {
      Bucket& bucket = buckets_[std::size_t(i)];
      if (bucket.span.from >= line.to) break;
      add_line(bucket, line);
    }
  }

  /// A sample's own value counts for min and max even where it starts or ends a line.
  void add(const Sample& sample) {
    if (!sample.value || sample.at < within_.from || sample.at >= within_.to) return;
    Bucket& bucket = buckets_[std::size_t(index_of(sample.at))];
    widen(bucket, *sample.value);
    lone_.resize(buckets_.size());
    auto& lone = lone_[std::size_t(index_of(sample.at))];
    lone.sum += *sample.value;
    ++lone.count;
  }

  std::vector<Bucket> finish() && {
    lone_.resize(buckets_.size());
    for (std::size_t i = 0; i < buckets_.size(); ++i) {
      if (buckets_[i].observed.count() > 0) {
        *buckets_[i].mean /= double(buckets_[i].observed.count());
      } else if (lone_[i].count > 0) {
        buckets_[i].mean = lone_[i].sum / lone_[i].count;
      }
    }
    return std::move(buckets_);
  }

 private:
  struct Lone {
    double sum = 0.0;
    int count = 0;
  };

  Instant border(int i) const {
    return within_.from + milliseconds((within_.to - within_.from).count() * i / count_);
  }

  int index_of(Instant t) const {
    const auto length = (within_.to - within_.from).count();
    int i = int((t - within_.from).count() * count_ / length);
    while (i + 1 < count_ && border(i + 1) <= t) ++i;  // borders are rounded to whole ms
    return i;
  }

  TimeSpan within_;
  int count_;
  std::vector<Bucket> buckets_;
  std::vector<Lone> lone_;
};

}  // namespace

std::vector<TimeSpan> gaps(std::span<const Sample> samples, TimeSpan within, milliseconds longest) {
  std::vector<TimeSpan> found;
  Instant covered = within.from;
  for (std::size_t i = 0; i + 1 < samples.size(); ++i) {
    const auto line = line_between(samples[i], samples[i + 1], longest);
    if (!line || line->to <= covered) continue;
    if (line->from >= within.to) break;
    if (line->from > covered) found.push_back({covered, line->from});
    covered = line->to;
  }
  if (covered < within.to) found.push_back({covered, within.to});
  return found;
}

std::vector<Bucket> decimate(std::span<const Sample> samples, TimeSpan within, int buckets,
                             milliseconds longest) {
  assert(buckets >= 1);
  if (within.to <= within.from) return {};
  Cutter cutter(within, buckets);
  for (std::size_t i = 0; i < samples.size(); ++i) {
    cutter.add(samples[i]);
    if (i + 1 == samples.size()) break;
    if (const auto line = line_between(samples[i], samples[i + 1], longest)) cutter.add(*line);
  }
  return std::move(cutter).finish();
}

}  // namespace takehold::sensors
