#include "sensors/codec/modbus_map.hpp"

#include <gtest/gtest.h>

namespace takehold::sensors {
namespace {

ModbusMap pair_map() {
  ModbusMap map;
  map.temperature = ModbusQuantity{4, 1, 0.1, ModbusType::int16};
  map.humidity = ModbusQuantity{4, 2, 0.1, ModbusType::uint16};
  return map;
}

Decoded decode(const ModbusMap& map, const Registers& registers) {
  const std::vector<std::optional<Registers>> answers{registers};
  return decode_registers(map, answers).value();
}

TEST(ModbusMap, frames_of_a_real_unit_give_degrees_and_percent) {
  // 01 04 04 01 18 01 9F 3B 87 is 28.0 degC, 41.5 %; FF CE 03 E7 is -5.0 degC, 99.9 %.
  const auto map = pair_map();
  const Bytes warm{0x01, 0x04, 0x04, 0x01, 0x18, 0x01, 0x9F, 0x3B, 0x87};
  const Bytes frost{0x01, 0x04, 0x04, 0xFF, 0xCE, 0x03, 0xE7, 0xEA, 0xD5};
  const auto reads = reads_of(map);
  ASSERT_EQ(reads.size(), 1u);
  EXPECT_EQ(reads[0], (ModbusRead{1, ModbusFunction::input, 1, 2}));
  const auto first = decode(map, ModbusAnswer(reads[0]).feed(warm)->value());
  EXPECT_NEAR(first.temperature->degc(), 28.0, 1e-9);
  EXPECT_NEAR(first.humidity->pct(), 41.5, 1e-9);
  const auto second = decode(map, ModbusAnswer(reads[0]).feed(frost)->value());
  EXPECT_NEAR(second.temperature->degc(), -5.0, 1e-9);
  EXPECT_NEAR(second.humidity->pct(), 99.9, 1e-9);
}

TEST(ModbusMap, tenths_are_the_number_one_would_write) {
  for (int raw = 0; raw <= 1000; ++raw) {
    EXPECT_EQ(decode(pair_map(), {0, std::uint16_t(raw)}).humidity->pct(), raw / 10.0);
  }
  auto coarse = pair_map();
  coarse.humidity->scale = 2.5;
  EXPECT_EQ(decode(coarse, {0, 3}).humidity->pct(), 7.5);
}

TEST(ModbusMap, an_unsigned_register_is_never_negative) {
  auto map = pair_map();
  map.temperature->type = ModbusType::uint16;
  EXPECT_NEAR(decode(map, {0xFFCE, 0}).temperature->degc(), 6548.6, 1e-9);
}

TEST(ModbusMap, humidity_may_stand_before_temperature) {
  auto map = pair_map();
  map.temperature->address = 7;
  map.humidity->address = 6;
  EXPECT_EQ(reads_of(map)[0], (ModbusRead{1, ModbusFunction::input, 6, 2}));
  const auto decoded = decode(map, {415, 280});
  EXPECT_NEAR(decoded.temperature->degc(), 28.0, 1e-9);
  EXPECT_NEAR(decoded.humidity->pct(), 41.5, 1e-9);
}

TEST(ModbusMap, registers_apart_are_asked_for_apart) {
  auto map = pair_map();
  map.humidity->address = 40;
  EXPECT_EQ(reads_of(map).size(), 2u);
  map.humidity->address = 2;
  map.humidity->function = 3;
  ASSERT_EQ(reads_of(map).size(), 2u);
  EXPECT_EQ(reads_of(map)[1], (ModbusRead{1, ModbusFunction::holding, 2, 1}));
}

TEST(ModbusMap, one_failed_read_leaves_the_other_value) {
  auto map = pair_map();
  map.humidity->address = 40;
  const std::vector<std::optional<Registers>> half{std::nullopt, Registers{415}};
  const auto decoded = decode_registers(map, half).value();
  EXPECT_FALSE(decoded.temperature.has_value());
  EXPECT_NEAR(decoded.humidity->pct(), 41.5, 1e-9);
  const std::vector<std::optional<Registers>> none{std::nullopt, std::nullopt};
  EXPECT_EQ(decode_registers(map, none).error().code, "no-values");
}

TEST(ModbusMap, wide_values_come_in_either_order_of_words) {
  // 25.5 as a float is 41 CC 00 00 (IEEE 754); -5000 in two's complement is FF FF EC 78.
  ModbusMap map;
  map.temperature = ModbusQuantity{3, 10, 1.0, ModbusType::float32, false, 0.0};
  EXPECT_EQ(reads_of(map)[0], (ModbusRead{1, ModbusFunction::holding, 10, 2}));
  EXPECT_EQ(decode(map, {0x41CC, 0x0000}).temperature->degc(), 25.5);
  map.temperature->low_word_first = true;
  EXPECT_EQ(decode(map, {0x0000, 0x41CC}).temperature->degc(), 25.5);
  map.temperature = ModbusQuantity{3, 10, 0.001, ModbusType::int32, false, 0.0};
  EXPECT_EQ(decode(map, {0xFFFF, 0xEC78}).temperature->degc(), -5.0);
  map.temperature->type = ModbusType::uint32;
  map.temperature->scale = 1e-9;
  EXPECT_NEAR(decode(map, {0xFFFF, 0xEC78}).temperature->degc(), 4.294962296, 1e-12);
}

TEST(ModbusMap, an_offset_is_added_after_the_scale) {
  // Tenths from -40, as some makers count: 645 is 24.5 degC.
  ModbusMap map;
  map.temperature = ModbusQuantity{4, 0, 0.1, ModbusType::uint16, false, -40.0};
  EXPECT_NEAR(decode(map, {645}).temperature->degc(), 24.5, 1e-9);
}

TEST(ModbusMap, a_float_that_is_no_number_is_a_missing_value) {
  auto map = pair_map();
  map.co2 = ModbusQuantity{4, 3, 1.0, ModbusType::float32, false, 0.0};
  ASSERT_EQ(reads_of(map).size(), 1u);
  const auto decoded = decode(map, {250, 960, 0x7FC0, 0x0000});
  EXPECT_TRUE(decoded.temperature.has_value());
  EXPECT_FALSE(decoded.extras.co2.has_value());
}

TEST(ModbusMap, a_value_that_bridges_two_reads_makes_them_one) {
  auto map = pair_map();  // 1 and 2
  map.humidity->address = 5;
  map.light = ModbusQuantity{4, 2, 1.0, ModbusType::uint16, false, 0.0};
  map.co2 = ModbusQuantity{4, 3, 1.0, ModbusType::uint32, false, 0.0};
  const auto reads = reads_of(map);
  ASSERT_EQ(reads.size(), 1u);
  EXPECT_EQ(reads[0], (ModbusRead{1, ModbusFunction::input, 1, 5}));
  const auto decoded = decode(map, {250, 40, 0, 812, 960});
  EXPECT_NEAR(decoded.extras.co2->ppm(), 812, 1e-9);
  EXPECT_NEAR(decoded.extras.light->umol(), 40, 1e-9);
  EXPECT_NEAR(decoded.humidity->pct(), 96.0, 1e-9);
}

TEST(ModbusMap, wrong_settings_are_named_by_their_key) {
  EXPECT_TRUE(check(pair_map()).has_value());
  const auto code_and_key = [](auto change) {
    auto map = pair_map();
    change(map);
    const auto checked = check(map);
    return checked ? std::string("fine") : checked.error().code + " " + checked.error().where;
  };
  EXPECT_EQ(code_and_key([](auto& m) { m.unit = 248; }), "bad-unit-number unit");
  EXPECT_EQ(code_and_key([](auto& m) { m.temperature->function = 5; }),
            "bad-function temperature.function");
  EXPECT_EQ(code_and_key([](auto& m) { m.humidity->address = 65536; }),
            "bad-address humidity.address");
  EXPECT_EQ(code_and_key([](auto& m) { m.humidity->scale = 0; }), "bad-scale humidity.scale");
  EXPECT_EQ(code_and_key([](auto& m) { m.humidity = m.temperature = std::nullopt; }), "no-values ");
}

}  // namespace
}  // namespace takehold::sensors
