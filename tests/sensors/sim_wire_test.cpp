// A simulated probe's bytes, read back by the codecs and against the standard's own refusals.
#include <gtest/gtest.h>

#include "sensors/codec/line_decoder.hpp"
#include "sensors/codec/modbus_map.hpp"
#include "sensors/sim/modbus_unit.hpp"
#include "sensors/sim/wording.hpp"

namespace takehold::sensors {
namespace {

const Decoded kWarm{Celsius::degc(28.0), RelativeHumidity::pct(41.5)};
const Decoded kFrost{Celsius::degc(-5.0), RelativeHumidity::pct(99.9)};
const ModbusRead kPair{1, ModbusFunction::input, 1, 2};

TEST(ModbusUnit, answers_the_published_frames) {
  const auto request = encode_request(kPair);
  EXPECT_EQ(answer_frame(1, request, kWarm),
            (Bytes{0x01, 0x04, 0x04, 0x01, 0x18, 0x01, 0x9F, 0x3B, 0x87}));
  EXPECT_EQ(answer_frame(1, request, kFrost),
            (Bytes{0x01, 0x04, 0x04, 0xFF, 0xCE, 0x03, 0xE7, 0xEA, 0xD5}));
}

TEST(ModbusUnit, refuses_as_the_standard_has_it) {
  const auto refused = [](ModbusRead read) {
    return answer_frame(1, encode_request(read), kWarm).value().at(2);
  };
  EXPECT_EQ(answer_frame(1, encode_request({1, ModbusFunction::input, 9, 2}), kWarm),
            (Bytes{0x01, 0x84, 0x02, 0xC2, 0xC1}));
  EXPECT_EQ(answer_frame(1, encode_request({1, ModbusFunction::holding, 0, 1}), kWarm),
            (Bytes{0x01, 0x83, 0x02, 0xC0, 0xF1}));
  EXPECT_EQ(refused({1, static_cast<ModbusFunction>(6), 1, 1}), 1);
  EXPECT_EQ(refused({1, ModbusFunction::input, 1, 126}), 3);
}

TEST(ModbusUnit, is_silent_when_it_is_not_meant_or_cannot_hear) {
  const auto request = encode_request(kPair);
  EXPECT_FALSE(answer_frame(2, request, kWarm).has_value());
  EXPECT_FALSE(answer_frame(1, request, std::nullopt).has_value());
  EXPECT_FALSE(answer_frame(1, std::span(request).first(7), kWarm).has_value());
  auto noisy = request;
  noisy[3] ^= 1;
  EXPECT_FALSE(answer_frame(1, noisy, kWarm).has_value());
  EXPECT_FALSE(answer_frame(1, {}, kWarm).has_value());
}

TEST(Wording, every_form_is_read_back) {
  const std::pair<Wording, TextFormat> forms[] = {
      {Wording::letters, PatternText{"T=(?<temperature>[-0-9.]+) H=(?<humidity>[0-9.]+)"}},
      {Wording::key_value, KeyValueMap{}},
      {Wording::json, JsonMap{}}};
  for (const auto& [wording, format] : forms) {
    const auto decoded = LineDecoder::make(format).value().decode(worded(kFrost, wording)).value();
    EXPECT_NEAR(decoded.temperature->degc(), -5.0, 1e-9);
    EXPECT_NEAR(decoded.humidity->pct(), 99.9, 1e-9);
  }
  EXPECT_EQ(worded(kWarm, Wording::letters), "T=28.00 H=41.50");
  EXPECT_EQ(worded({std::nullopt, RelativeHumidity::pct(50)}, Wording::json),
            "{\"temperature_degc\":null,\"humidity_pct\":50.00}");
}

}  // namespace
}  // namespace takehold::sensors
