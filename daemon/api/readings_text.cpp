#include <array>
#include <charconv>
#include <nlohmann/json.hpp>

#include "daemon/api/reading_message.hpp"
#include "daemon/healing/band.hpp"

namespace takehold::daemon {
namespace {

/// The shortest text that reads back as the same number.
void put(std::string& text, double number) {
  std::array<char, 32> digits;
  const auto end = std::to_chars(digits.data(), digits.data() + digits.size(), number).ptr;
  text.append(digits.data(), end);
}

template <class Q>
void put(std::string& text, const char* key, const std::optional<Spread<Q>>& spread) {
  text += key;
  if (!spread) {
    text += "null";
    return;
  }
  text += "{\"mean\":";
  put(text, number_of(spread->mean));
  text += ",\"min\":";
  put(text, number_of(spread->min));
  text += ",\"max\":";
  put(text, number_of(spread->max));
  text += '}';
}

void put(std::string& text, const ReadingBucket& bucket) {
  text += "{\"at\":\"" + sensors::to_string(bucket.at) + '"';
  put(text, ",\"temperature_degc\":", bucket.temperature);
  put(text, ",\"humidity_pct\":", bucket.humidity);
  put(text, ",\"leaf_temperature_degc\":", bucket.leaf_temperature);
  put(text, ",\"co2_ppm\":", bucket.co2);
  put(text, ",\"light_umol\":", bucket.light);
  text += '}';
}

}  // namespace

std::string readings_text(const ReadingsMessage& message) {
  constexpr std::size_t kUsualBucket = 300;
  std::size_t buckets = 0;
  for (const auto& probe : message.probes) buckets += probe.buckets.size();
  std::string text;
  text.reserve(200 + buckets * kUsualBucket);
  text += "{\"from\":\"" + sensors::to_string(message.from) + "\",\"to\":\"" +
          sensors::to_string(message.to) + "\",\"step_s\":";
  put(text, static_cast<double>(message.step.count()) / 1000.0);
  text += ",\"probes\":[";
  const char* between = "";
  for (const auto& probe : message.probes) {
    text += between + std::string("{\"probe\":") + nlohmann::json(probe.probe).dump() +
            ",\"buckets\":[";
    const char* comma = "";
    for (const auto& bucket : probe.buckets) {
      text += comma;
      put(text, bucket);
      comma = ",";
    }
    text += "]}";
    between = ",";
  }
  return text + "]}";
}

}  // namespace takehold::daemon
