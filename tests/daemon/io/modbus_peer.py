"""Three Modbus units on one line, served by pymodbus: nothing of ours is in it.

usage: modbus_peer.py DEVICE
  unit 1   input registers 1, 2: tenths, signed: -5.0 degC 99.9 %
  unit 2   holding registers 10-13: floats, the low word first: 24.25 degC 96.5 %
  unit 3   input registers 100-101: thousandths as int32: 25.125 degC; 102: 812 ppm
"""
import struct
import sys

from pymodbus.datastore import ModbusSequentialDataBlock, ModbusServerContext, ModbusSlaveContext
from pymodbus.server import StartSerialServer
from pymodbus.transaction import ModbusRtuFramer


def words(fmt, value):
    raw = struct.pack(fmt, value)
    return [int.from_bytes(raw[i:i + 2], "big") for i in (0, 2)]


def unit(**blocks):
    return ModbusSlaveContext(zero_mode=True, **{name: ModbusSequentialDataBlock(at, values) for name, (at, values) in blocks.items()})


units = {
    1: unit(ir=(1, [0xFFCE, 999])),
    2: unit(hr=(10, words(">f", 24.25)[::-1] + words(">f", 96.5)[::-1])),
    3: unit(ir=(100, words(">i", 25125) + [812])),
}
print("ready", flush=True)
StartSerialServer(context=ModbusServerContext(slaves=units, single=False), framer=ModbusRtuFramer, port=sys.argv[1], baudrate=9600)
