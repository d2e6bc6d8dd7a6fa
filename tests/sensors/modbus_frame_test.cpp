// Frames and sums: the Modbus documents' own examples (MODBUS over Serial Line V1.02; MODBUS
// Application Protocol V1.1b3) and arithmetic on them.
#include "sensors/codec/modbus_frame.hpp"

#include <gtest/gtest.h>

#include <string>

namespace takehold::sensors {
namespace {

Bytes bytes_of(const std::string& hex) {
  Bytes bytes;
  for (std::size_t i = 0; i + 1 < hex.size(); i += 3) {
    bytes.push_back(static_cast<std::uint8_t>(std::stoul(hex.substr(i, 2), nullptr, 16)));
  }
  return bytes;
}

std::string code_of(const std::optional<Result<Registers>>& outcome) {
  if (!outcome) return "unfinished";
  return outcome->has_value() ? "good" : outcome->error().code;
}

const ModbusRead kPair{1, ModbusFunction::input, 1, 2};
const Bytes kPairAnswer = bytes_of("01 04 04 01 18 01 9F 3B 87");

TEST(Modbus, check_sums_are_the_published_ones) {
  const std::string digits = "123456789";
  EXPECT_EQ(crc16(Bytes(digits.begin(), digits.end())), 0x4B37);
  EXPECT_EQ(crc16(bytes_of("02 07")), 0x1241);  // sent low byte first: 41 12
}

TEST(Modbus, requests_are_the_published_bytes) {
  EXPECT_EQ(encode_request({0x11, ModbusFunction::holding, 0x6B, 3}),
            bytes_of("11 03 00 6B 00 03 76 87"));
  EXPECT_EQ(encode_request({0x11, ModbusFunction::input, 8, 1}),
            bytes_of("11 04 00 08 00 01 B2 98"));
  EXPECT_EQ(encode_request(kPair), bytes_of("01 04 00 01 00 02 20 0B"));
}

TEST(Modbus, answers_are_the_published_bytes_both_ways) {
  const ModbusRead holding{0x11, ModbusFunction::holding, 0x6B, 3};
  const Registers three{0xAE41, 0x5652, 0x4340};
  const auto frame = bytes_of("11 03 06 AE 41 56 52 43 40 49 AD");
  EXPECT_EQ(encode_answer(holding, three), frame);
  EXPECT_EQ(ModbusAnswer(holding).feed(frame)->value(), three);

  const ModbusRead input{0x11, ModbusFunction::input, 8, 1};
  const auto short_frame = bytes_of("11 04 02 00 0A F8 F4");
  EXPECT_EQ(encode_answer(input, Registers{10}), short_frame);
  EXPECT_EQ(ModbusAnswer(input).feed(short_frame)->value(), Registers{10});
}

TEST(Modbus, a_request_is_read_back) {
  for (const ModbusRead& read : {kPair, ModbusRead{247, ModbusFunction::holding, 0xFFFF, 125}}) {
    EXPECT_EQ(parse_request(encode_request(read)).value(), read);
  }
}

TEST(Modbus, the_request_of_another_unit_with_its_sum_is_refused) {
  const auto frame = bytes_of("01 03 00 6B 00 03 76 87");  // the sum belongs to unit 0x11
  EXPECT_EQ(parse_request(frame).error().code, "bad-crc");
  ModbusAnswer answer({1, ModbusFunction::holding, 0x6B, 3});
  EXPECT_EQ(code_of(answer.feed(frame)), "bad-count");
}

TEST(Modbus, an_answer_may_come_in_any_pieces) {
  for (std::size_t cut = 1; cut < kPairAnswer.size(); ++cut) {
    ModbusAnswer answer(kPair);
    const auto all = std::span(kPairAnswer);
    EXPECT_EQ(code_of(answer.feed(all.first(cut))), "unfinished") << cut;
    EXPECT_EQ(answer.unfinished().code, "short-frame");
    EXPECT_EQ(answer.feed(all.subspan(cut))->value(), (Registers{280, 415})) << cut;
  }
  ModbusAnswer one_by_one(kPair);
  for (std::size_t i = 0; i + 1 < kPairAnswer.size(); ++i) {
    EXPECT_EQ(code_of(one_by_one.feed(std::span(kPairAnswer).subspan(i, 1))), "unfinished");
  }
  EXPECT_EQ(code_of(one_by_one.feed(std::span(kPairAnswer).last(1))), "good");
}

TEST(Modbus, any_single_wrong_bit_is_noticed) {
  for (std::size_t bit = 0; bit < 8 * kPairAnswer.size(); ++bit) {
    auto frame = kPairAnswer;
    frame[bit / 8] = static_cast<std::uint8_t>(frame[bit / 8] ^ (1u << (bit % 8)));
    EXPECT_NE(code_of(ModbusAnswer(kPair).feed(frame)), "good") << "bit " << bit;
  }
}

TEST(Modbus, a_units_refusal_is_told_in_words) {
  EXPECT_EQ(encode_refusal(1, 4, 2), bytes_of("01 84 02 C2 C1"));
  EXPECT_EQ(encode_refusal(1, 3, 2), bytes_of("01 83 02 C0 F1"));
  const auto outcome = ModbusAnswer(kPair).feed(bytes_of("01 84 02 C2 C1"));
  ASSERT_EQ(code_of(outcome), "refused");
  EXPECT_NE(outcome->error().detail.find("no such register"), std::string::npos);
  const ModbusRead holding{1, ModbusFunction::holding, 1, 2};
  EXPECT_EQ(code_of(ModbusAnswer(holding).feed(bytes_of("01 83 02 C0 F1"))), "refused");
  EXPECT_EQ(code_of(ModbusAnswer(kPair).feed(bytes_of("01 83 02 C0 F1"))), "bad-function");
}

TEST(Modbus, what_does_not_answer_the_question_is_refused) {
  EXPECT_EQ(code_of(ModbusAnswer({2, ModbusFunction::input, 1, 2}).feed(kPairAnswer)),
            "other-unit");
  EXPECT_EQ(code_of(ModbusAnswer({1, ModbusFunction::input, 1, 1}).feed(kPairAnswer)), "bad-count");
  auto two = kPairAnswer;
  two.insert(two.end(), kPairAnswer.begin(), kPairAnswer.end());
  EXPECT_EQ(code_of(ModbusAnswer(kPair).feed(two)), "surplus-bytes");
}

TEST(Modbus, silence_and_a_broken_off_answer_are_told_apart) {
  ModbusAnswer answer(kPair);
  EXPECT_EQ(answer.unfinished().code, "silent");
  answer.feed(std::span(kPairAnswer).first(4));
  EXPECT_EQ(answer.unfinished().code, "short-frame");
}

TEST(Modbus, wrong_requests_are_refused) {
  EXPECT_EQ(parse_request(bytes_of("01 04 00 01")).error().code, "short-frame");
  EXPECT_EQ(parse_request(encode_request({1, ModbusFunction::input, 0, 126})).error().code,
            "bad-count");
  EXPECT_EQ(parse_request(encode_request({1, static_cast<ModbusFunction>(6), 0, 1})).error().code,
            "bad-function");
}

TEST(Modbus, silence_between_frames_by_baud) {
  EXPECT_EQ(frame_silence(9600).count(), 4010);
  EXPECT_EQ(frame_silence(19200).count(), 2005);
  EXPECT_EQ(frame_silence(115200).count(), 1750);
}

}  // namespace
}  // namespace takehold::sensors
