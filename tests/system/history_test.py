"""What chamberd shows of the past, and that a hanging file stops nothing. usage: history_test.py BIN_DIR CASE"""
import fcntl
import os
import signal
import sys
import time

from chamber_place import Place, at


def what_is_told_beside_the_air_is_shown_everywhere(place):
    place.start()
    for seconds in range(-7200, 0, 10):
        batch = [{"probe": "sent", "at": at(second), "temperature_degc": 24, "humidity_pct": 80, "leaf_temperature_degc": 23,
                  "co2_ppm": 900, "light_umol": 40} for second in (seconds,)]
        assert place.ask("POST", "/v1/readings", batch).status == 200
    air = place.ask("GET", "/v1/status").json()["air"]
    assert (air["leaf_temperature_degc"], air["co2_ppm"], air["light_umol"]) == (23, 900, 40), air
    # Magnus by hand: es(23) 2.811 kPa less 0.8 es(24), 2.985 kPa: Alduchov and Eskridge 1996 agree to 0.005 kPa.
    assert abs(air["leaf_vapour_pressure_deficit_kpa"] - (2.811 - 0.8 * 2.985)) < 0.01, air
    for points in (2, 20, 2000):
        buckets = place.ask("GET", f"/v1/readings?probe=sent&from={at(-7300)}&to={at(0)}&points={points}").json()["probes"][0]["buckets"]
        told = [b for b in buckets if b["co2_ppm"]]
        assert told and all(b["co2_ppm"] == {"mean": 900, "min": 900, "max": 900} for b in told), told[:3]
        assert any(b["light_umol"] for b in buckets) and any(b["leaf_temperature_degc"] for b in buckets)
    page = place.ask("GET", "/").body.decode()
    assert "CO2 900 ppm; light 40 µmol; leaf 23.0 °C; drying power on the leaf 0.42 kPa</p>" in page, page
    assert "CO2 900 ppm light 40 µmol leaf 23.0 °C at " in page, page  # of the probe that carries them


def charts_of_any_span_are_what_the_raw_rows_say(place):
    """min and max of whole minutes against sqlite3's own, in buckets of one minute, ten and sixty."""
    place.start()
    begin = int(time.time()) // 3600 * 3600 - 4 * 3600
    batch = []
    for i in range(0, 4 * 3600, 7):
        batch.append({"probe": "sent", "at": time.strftime("%Y-%m-%dT%H:%M:%SZ", time.gmtime(begin + i)),
                      "temperature_degc": 20 + (i * 7919 % 1000) / 100, "humidity_pct": 90})
    for i in range(0, len(batch), 500):
        assert place.ask("POST", "/v1/readings", batch[i:i + 500]).status == 200
    edge = lambda hours: time.strftime("%Y-%m-%dT%H:%M:%SZ", time.gmtime(begin + hours * 3600))
    for points in (4, 24, 240, 1440):
        buckets = place.ask("GET", f"/v1/readings?probe=sent&from={edge(0)}&to={edge(4)}&points={points}").json()["probes"][0]["buckets"]
        step = 4 * 3600 * 1000 // points
        rows = place.sql(f"SELECT (at_ms - {begin}000) / {step}, min(temperature_mdegc), max(temperature_mdegc), avg(temperature_mdegc) "
                         "FROM reading_at GROUP BY 1 ORDER BY 1").splitlines()
        assert len(rows) == sum(b["temperature_degc"] is not None for b in buckets) == points
        for bucket, row in zip(buckets, rows):
            _, low, high, mean = map(float, row.split("|"))
            spread = bucket["temperature_degc"]
            assert (round(spread["min"] * 1000), round(spread["max"] * 1000)) == (low, high), (bucket, row)
            # Weighed by time: each of n readings spans at most 10 degC, and half of one at either end is the neighbours'.
            assert abs(spread["mean"] * 1000 - mean) <= 10000 * 7000 / step + 1, (bucket, row)


def a_file_that_hangs_holds_up_nobody(place):
    """Whoever opens a file under another's lease waits in the kernel until that one gives way."""
    line = "t=24.5 h=95\n"
    for name in ("hangs", "well"):
        place.write(name, line)
    place.settings("".join(f'[[probe]]\nname = "{name}"\nkind = "file"\nfile = "{place.path(name)}"\nevery = "200ms"\ntimeout = "300ms"\n'
                           'text = { format = "key=value", temperature = "t", humidity = "h" }\n' for name in ("hangs", "well")))
    place.start()
    signal.signal(signal.SIGIO, signal.SIG_IGN)

    def good(name):
        return int(place.sql("SELECT count(*) FROM reading JOIN probe ON probe.id = probe WHERE quality = 0 "
                             f"AND name = '{name}'"))

    def turn(count):
        for _ in range(count):
            for name in ("hangs", "well"):
                os.utime(place.path(name))
            time.sleep(0.1)

    turn(20)
    assert good("hangs") > 2 and good("well") > 2
    held = os.open(place.path("hangs"), os.O_RDWR)
    for _ in range(100):  # refused while chamberd has it open
        try:
            fcntl.fcntl(held, fcntl.F_SETLEASE, fcntl.F_WRLCK)
            break
        except OSError:
            time.sleep(0.01)
    else:
        raise AssertionError("no lease could be had")
    turn(10)
    hung, before = good("hangs"), good("well")
    turn(30)
    assert good("hangs") == hung, "the file did not hang"
    assert good("well") > before + 5, "the other probe was held up"
    status = {p["name"]: p["last"] for p in place.ask("GET", "/v1/status").json()["probes"]}
    assert status["hangs"]["quality"] == "none" and "does not answer" in status["hangs"]["error"], status
    fcntl.fcntl(held, fcntl.F_SETLEASE, fcntl.F_UNLCK)
    os.close(held)
    place.wait_for(lambda: turn(2) or good("hangs") > hung)
    assert place.stop() == 0


if __name__ == "__main__":
    with Place(sys.argv[1]) as the_place:
        globals()[sys.argv[2]](the_place)
    print("passed:", sys.argv[2])
