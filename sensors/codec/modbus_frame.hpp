// Modbus RTU frames for reading registers: functions 3 (holding) and 4 (input).
//
//   request   unit function address(2) count(2) crc(2)
//   answer    unit function bytes(1) registers(2 each) crc(2)
//   refusal   unit function+0x80 reason(1) crc(2)
// Numbers are high byte first, the CRC low byte first. (Modbus over Serial Line V1.02.)
// RTU frames carry no number of their own: whoever asks throws away what came before asking.
#pragma once

#include <chrono>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "sensors/quantity/problem.hpp"

namespace takehold::sensors {

using Bytes = std::vector<std::uint8_t>;
using Registers = std::vector<std::uint16_t>;

inline constexpr int kMaxRegisters = 125;  ///< in one read, by the standard
inline constexpr std::size_t kModbusRequestBytes = 8;

enum class ModbusFunction : std::uint8_t { holding = 3, input = 4 };

/// One question: `count` registers from `address` of `unit`.
struct ModbusRead {
  std::uint8_t unit = 1;
  ModbusFunction function = ModbusFunction::input;
  std::uint16_t address = 0;
  std::uint16_t count = 1;
  friend bool operator==(const ModbusRead&, const ModbusRead&) = default;
};

/// CRC-16/MODBUS: polynomial 0xA001 reflected, start 0xFFFF.
std::uint16_t crc16(std::span<const std::uint8_t> bytes);

/// The silence that ends a frame (t3.5): 3.5 characters of 11 bits; above 19200 baud 1750 µs.
std::chrono::microseconds frame_silence(unsigned baud);

Bytes encode_request(const ModbusRead& read);
/// The other side: an answer to `read`; registers.size() must be read.count.
Bytes encode_answer(const ModbusRead& read, std::span<const std::uint16_t> registers);
Bytes encode_refusal(std::uint8_t unit, std::uint8_t function, std::uint8_t reason);

/// A whole request as a unit receives it. Codes "short-frame", "bad-crc", "surplus-bytes",
/// "bad-function", "bad-count".
Result<ModbusRead> parse_request(std::span<const std::uint8_t> frame);

/// Puts the answer to one question together from pieces of any size.
class ModbusAnswer {
 public:
  explicit ModbusAnswer(const ModbusRead& asked) : asked_(asked) {}

  /// None: more bytes are needed. Otherwise the registers, or why there are none: codes
  /// "other-unit", "bad-function", "bad-count" (as soon as they show), "bad-crc", "surplus-bytes",
  /// "refused" (the unit's own reason in words). After an outcome make a new object.
  std::optional<Result<Registers>> feed(std::span<const std::uint8_t> bytes);

  /// What to report when the time is up: code "silent" if nothing came, else "short-frame".
  Problem unfinished() const;

 private:
  std::optional<Problem> wrong_head() const;
  std::optional<std::size_t> whole_size() const;
  Result<Registers> outcome(std::size_t size) const;

  ModbusRead asked_;
  Bytes held_;
};

}  // namespace takehold::sensors
