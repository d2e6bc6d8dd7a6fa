#include "sensors/codec/modbus_frame.hpp"

#include <cassert>
#include <cstdio>
#include <string>

namespace takehold::sensors {
namespace {

constexpr std::uint8_t kRefusalBit = 0x80;
constexpr std::size_t kRefusalBytes = 5;
constexpr std::size_t kAnswerFrame = 5;  // unit, function, byte count, crc

void put16(Bytes& frame, std::uint16_t value) {
  frame.push_back(static_cast<std::uint8_t>(value >> 8));
  frame.push_back(static_cast<std::uint8_t>(value & 0xff));
}

void put_crc(Bytes& frame) {
  const auto crc = crc16(frame);
  frame.push_back(static_cast<std::uint8_t>(crc & 0xff));
  frame.push_back(static_cast<std::uint8_t>(crc >> 8));
}

std::uint16_t get16(std::span<const std::uint8_t> bytes, std::size_t at) {
  return static_cast<std::uint16_t>(bytes[at] << 8 | bytes[at + 1]);
}

/// A frame that holds its own CRC at its end leaves a remainder of zero.
bool crc_holds(std::span<const std::uint8_t> frame) {
  return crc16(frame) == 0;
}

std::string hex(std::span<const std::uint8_t> bytes) {
  constexpr std::size_t kShown = 16;
  std::string text;
  for (const auto byte : bytes.first(std::min(bytes.size(), kShown))) {
    char digits[4];
    std::snprintf(digits, sizeof digits, "%02X ", unsigned(byte));
    text += digits;
  }
  if (!text.empty()) text.pop_back();
  return bytes.size() > kShown ? text + " ..." : text;
}

Problem frame_problem(const char* code, const char* title, std::span<const std::uint8_t> frame) {
  return {code, title, hex(frame), "", ""};
}

std::string reason_in_words(std::uint8_t reason) {
  switch (reason) {
    case 1:
      return "it does not know this function (1)";
    case 2:
      return "it has no such register (2)";
    case 3:
      return "it does not give so many registers (3)";
    case 4:
      return "it has failed (4)";
    case 5:
      return "it needs more time (5)";
    case 6:
      return "it is busy (6)";
    default:
      return "reason " + std::to_string(reason);
  }
}

bool is_read_function(std::uint8_t function) {
  return function == 3 || function == 4;
}

}  // namespace

std::uint16_t crc16(std::span<const std::uint8_t> bytes) {
  std::uint16_t crc = 0xffff;
  for (const auto byte : bytes) {
    crc ^= byte;
    for (int bit = 0; bit < 8; ++bit) {
      const bool carry = (crc & 1) != 0;
      crc = static_cast<std::uint16_t>(crc >> 1);
      if (carry) crc ^= 0xa001;
    }
  }
  return crc;
}

std::chrono::microseconds frame_silence(unsigned baud) {
  constexpr unsigned kFixedAbove = 19200;
  if (baud == 0 || baud > kFixedAbove) return std::chrono::microseconds(1750);
  return std::chrono::microseconds(38'500'000 / baud);  // 3.5 characters · 11 bits
}

Bytes encode_request(const ModbusRead& read) {
  Bytes frame{read.unit, static_cast<std::uint8_t>(read.function)};
  put16(frame, read.address);
  put16(frame, read.count);
  put_crc(frame);
  return frame;
}

Bytes encode_answer(const ModbusRead& read, std::span<const std::uint16_t> registers) {
  assert(registers.size() == read.count && read.count <= kMaxRegisters);
  Bytes frame{read.unit, static_cast<std::uint8_t>(read.function),
              static_cast<std::uint8_t>(2 * registers.size())};
  for (const auto value : registers) put16(frame, value);
  put_crc(frame);
  return frame;
}

Bytes encode_refusal(std::uint8_t unit, std::uint8_t function, std::uint8_t reason) {
  Bytes frame{unit, static_cast<std::uint8_t>(function | kRefusalBit), reason};
  put_crc(frame);
  return frame;
}

Result<ModbusRead> parse_request(std::span<const std::uint8_t> frame) {
  if (frame.size() < kModbusRequestBytes) {
    return frame_problem("short-frame", "the request is too short", frame);
  }
  if (frame.size() > kModbusRequestBytes) {
    return frame_problem("surplus-bytes", "more bytes than a request has", frame);
  }
  if (!crc_holds(frame)) return frame_problem("bad-crc", "the check sum is wrong", frame);
  if (!is_read_function(frame[1])) {
    return frame_problem("bad-function", "not a read of registers", frame);
  }
  const ModbusRead read{frame[0], static_cast<ModbusFunction>(frame[1]), get16(frame, 2),
                        get16(frame, 4)};
  if (read.count == 0 || read.count > kMaxRegisters) {
    return frame_problem("bad-count", "a read is of 1 to 125 registers", frame);
  }
  return read;
}

std::optional<Result<Registers>> ModbusAnswer::feed(std::span<const std::uint8_t> bytes) {
  held_.insert(held_.end(), bytes.begin(), bytes.end());
  if (auto problem = wrong_head()) return Result<Registers>(*std::move(problem));
  const auto size = whole_size();
  if (!size || held_.size() < *size) return std::nullopt;
  return outcome(*size);
}

std::optional<Problem> ModbusAnswer::wrong_head() const {
  const auto function = static_cast<std::uint8_t>(asked_.function);
  if (!held_.empty() && held_[0] != asked_.unit) {
    return frame_problem("other-unit", "the answer is of another unit", held_);
  }
  if (held_.size() > 1 && (held_[1] & ~kRefusalBit) != function) {
    return frame_problem("bad-function", "the answer is to another function", held_);
  }
  if (held_.size() > 2 && held_[1] == function && held_[2] != 2 * asked_.count) {
    return frame_problem("bad-count", "the answer has another length than asked for", held_);
  }
  return std::nullopt;
}

std::optional<std::size_t> ModbusAnswer::whole_size() const {
  if (held_.size() < 2) return std::nullopt;
  if ((held_[1] & kRefusalBit) != 0) return kRefusalBytes;
  return kAnswerFrame + std::size_t(2) * asked_.count;
}

Result<Registers> ModbusAnswer::outcome(std::size_t size) const {
  const auto frame = std::span(held_).first(size);
  if (!crc_holds(frame)) return frame_problem("bad-crc", "the check sum is wrong", held_);
  if (held_.size() > size) {
    return frame_problem("surplus-bytes", "more bytes than the answer has", held_);
  }
  if ((held_[1] & kRefusalBit) != 0) {
    return Problem{"refused", "the unit refuses", reason_in_words(held_[2]), "", ""};
  }
  Registers registers;
  for (std::size_t i = 0; i < asked_.count; ++i) registers.push_back(get16(held_, 3 + 2 * i));
  return registers;
}

Problem ModbusAnswer::unfinished() const {
  if (held_.empty()) return {"silent", "no answer", "", "", ""};
  return frame_problem("short-frame", "the answer broke off", held_);
}

}  // namespace takehold::sensors
