// An independent implementation as the peer: frames made by pymodbus, read and made here too.
#include <gtest/gtest.h>

#include <cstdio>
#include <sstream>
#include <string>

#include "sensors/codec/modbus_frame.hpp"
#include "tests/support/running_program.hpp"

namespace takehold::sensors {
namespace {

// Prints: unit function address count request-hex answer-hex registers...
constexpr const char* kPeer = R"(/usr/bin/python3 - <<'END'
import random
from pymodbus.factory import ClientDecoder
from pymodbus.transaction import ModbusRtuFramer
from pymodbus.register_read_message import *
framer = ModbusRtuFramer(ClientDecoder())
dice = random.Random(20270412)
for _ in range(300):
    function = dice.choice([3, 4])
    unit, address, count = dice.randint(1, 247), dice.randint(0, 65535), dice.randint(1, 125)
    asks, answers = {3: (ReadHoldingRegistersRequest, ReadHoldingRegistersResponse),
                     4: (ReadInputRegistersRequest, ReadInputRegistersResponse)}[function]
    values = [dice.randint(0, 65535) for _ in range(count)]
    answer = answers(values)
    answer.unit_id = unit
    print(unit, function, address, count, framer.buildPacket(asks(address, count, unit)).hex(),
          framer.buildPacket(answer).hex(), *values)
END
)";

std::string hex_of(const Bytes& bytes) {
  std::string text;
  for (const auto byte : bytes) {
    char digits[3];
    std::snprintf(digits, sizeof digits, "%02x", unsigned(byte));
    text += digits;
  }
  return text;
}

TEST(ModbusPeer, every_frame_of_the_peer_is_ours_byte_for_byte) {
  std::istringstream lines(testing::output_of(kPeer));
  int compared = 0;
  for (std::string line; std::getline(lines, line); ++compared) {
    std::istringstream row(line);
    unsigned unit = 0, function = 0, address = 0, count = 0;
    std::string request, answer;
    row >> unit >> function >> address >> count >> request >> answer;
    Registers registers;
    for (unsigned value = 0; row >> value;) registers.push_back(std::uint16_t(value));
    const ModbusRead read{std::uint8_t(unit), static_cast<ModbusFunction>(function),
                          std::uint16_t(address), std::uint16_t(count)};
    EXPECT_EQ(hex_of(encode_request(read)), request);
    ASSERT_EQ(registers.size(), count);
    const auto ours = encode_answer(read, registers);
    EXPECT_EQ(hex_of(ours), answer);
    EXPECT_EQ(ModbusAnswer(read).feed(ours)->value(), registers);
  }
  EXPECT_EQ(compared, 300) << "is python3-pymodbus installed?";
}

}  // namespace
}  // namespace takehold::sensors
