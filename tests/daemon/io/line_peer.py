"""A line of Modbus units by hand, to see how it is spoken to. Frames and sums are its own.

usage: line_peer.py DEVICE late|watch
  watch   units 1 to 4 answer after 30 ms; prints what was wrong with the manners of whoever asks: bytes that came
          before the answer was out, or sooner after it than 3.5 characters of silence
  late    unit 1 answers too late, into the question to unit 2
Units tell 20 + their number degC and 90 + their number %.
"""
import os
import select
import sys
import time
import tty


def crc(data):
    value = 0xFFFF
    for byte in data:
        value ^= byte
        for _ in range(8):
            value = (value >> 1) ^ 0xA001 if value & 1 else value >> 1
    return bytes((value & 0xFF, value >> 8))


def answer(unit):
    head = bytes((unit, 4, 4)) + (10 * (20 + unit)).to_bytes(2, "big") + (10 * (90 + unit)).to_bytes(2, "big")
    return head + crc(head)


def question(line):
    frame = b""
    while len(frame) < 8:
        frame += os.read(line, 8 - len(frame))
    return frame


line = os.open(sys.argv[1], os.O_RDWR | os.O_NOCTTY)
tty.setraw(line)
print("ready", flush=True)
answered = 0.0
while True:
    select.select([line], [], [])
    came = time.monotonic()
    frame = question(line)
    if crc(frame[:6]) != frame[6:]:
        print("garbled", frame.hex(), flush=True)
    if came - answered < 0.00401:  # 3.5 characters of 11 bits at 9600 baud
        print("no silence %.5f" % (came - answered), flush=True)
    unit = frame[0]
    if sys.argv[2] == "late" and unit == 1:
        time.sleep(0.5)
    else:
        time.sleep(0.03)
        if select.select([line], [], [], 0)[0]:
            print("interleaved", flush=True)
    answered = time.monotonic()  # before, so that a late clock can only excuse
    os.write(line, answer(unit))
    print("asked", unit, flush=True)
