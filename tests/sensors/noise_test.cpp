// Bytes nobody meant: a seeded sweep through every decoder, for sanitizers to watch. Whatever comes
// out is a Problem or finite numbers.
#include <gtest/gtest.h>

#include <cmath>

#include "sensors/codec/line_decoder.hpp"
#include "sensors/codec/line_splitter.hpp"
#include "sensors/codec/modbus_map.hpp"
#include "sensors/codec/trace_row.hpp"
#include "sensors/sim/dice.hpp"

namespace takehold::sensors {
namespace {

constexpr std::uint64_t kSeed = 20270412;
constexpr int kTrials = 20'000;

/// Pieces that lead far into a decoder, with noise between.
std::string noisy_text(Dice& dice) {
  static const char* const kPieces[] = {"T=",
                                        "H=",
                                        "temperature=",
                                        "humidity=",
                                        "{",
                                        "}",
                                        "[",
                                        "\"t\"",
                                        ":",
                                        ",",
                                        "1e9",
                                        "-",
                                        "99.",
                                        "%",
                                        "F",
                                        "null",
                                        "\\u",
                                        "\r\n",
                                        "2027-04-12T00:00:00Z",
                                        "left"};
  std::string text;
  for (auto n = dice.next() % 12; n > 0; --n) {
    if (dice.next() % 3 == 0) {
      text += char(dice.next() % 256);
    } else {
      text += kPieces[dice.next() % std::size(kPieces)];
    }
  }
  return text;
}

void expect_sound(const Result<Decoded>& decoded, const std::string& from) {
  if (!decoded) {
    EXPECT_FALSE(decoded.error().code.empty());
    return;
  }
  EXPECT_FALSE(decoded->is_empty()) << quote_bytes(from);
  if (decoded->temperature) {
    EXPECT_TRUE(std::isfinite(decoded->temperature->degc()));
  }
  if (decoded->humidity) {
    EXPECT_TRUE(std::isfinite(decoded->humidity->pct()));
  }
}

TEST(Noise, lines_are_a_problem_or_finite_numbers) {
  const LineDecoder decoders[] = {
      LineDecoder::make(PatternText{"T=(?<temperature>\\S*) ?H=(?<humidity>\\S*)"}).value(),
      LineDecoder::make(KeyValueMap{}).value(),
      LineDecoder::make(JsonMap{"/t", "/t/0"}).value(),
  };
  Dice dice(kSeed);
  for (int trial = 0; trial < kTrials; ++trial) {
    const auto text = noisy_text(dice);
    for (const auto& decoder : decoders) expect_sound(decoder.decode(text), text);
    if (const auto row = parse_trace_row(text); !row) {
      EXPECT_FALSE(row.error().code.empty());
    }
  }
}

TEST(Noise, a_splitter_never_gives_a_line_too_long_or_with_its_end) {
  Dice dice(kSeed);
  LineSplitter splitter(16);
  for (int trial = 0; trial < kTrials; ++trial) {
    splitter.feed(noisy_text(dice));
    while (const auto line = splitter.next()) {
      if (!line->has_value()) continue;
      EXPECT_LE((*line)->size(), 16u);
      EXPECT_EQ((*line)->find_first_of("\r\n"), std::string::npos);
    }
  }
}

TEST(Noise, frames_with_wrong_bytes_give_no_registers) {
  // Good answers with one to three bytes changed, cut or added: a 16-bit sum lets about one in
  // 65 536 through, and none of these.
  Dice dice(kSeed);
  const ModbusRead read{1, ModbusFunction::input, 1, 2};
  for (int trial = 0; trial < kTrials; ++trial) {
    const auto good = encode_answer(read, Registers{std::uint16_t(dice.next()), 415});
    auto frame = good;
    for (auto n = 1 + dice.next() % 3; n > 0; --n) {
      frame[dice.next() % frame.size()] = std::uint8_t(dice.next());
    }
    if (dice.next() % 4 == 0) frame.resize(dice.next() % frame.size());
    if (dice.next() % 4 == 0) frame.push_back(std::uint8_t(dice.next()));
    if (frame == good) continue;
    const auto outcome = ModbusAnswer(read).feed(frame);
    EXPECT_FALSE(outcome && outcome->has_value()) << "trial " << trial;
    static_cast<void>(parse_request(frame));
  }
}

}  // namespace
}  // namespace takehold::sensors
