"""What a real chamberd logged of a bench becomes the warmth that seedlings lived through.
usage: bench_test.py BIN_DIR CASE"""
import json
import subprocess
import sys
import time

from chamber_place import Place

PROBES = "".join(f'[[probe]]\nname = "{name}"\nkind = "push"\nplace = "{place}"\n' for name, place in
                 (("sent", "chamber"), ("near the glass", "warm bench"), ("by the wall", "warm bench")))
SHEET = """season = "bench"
ready_on = {ready}
time_zone = "UTC"
[[bench]]
name = "warm bench"
day_degc = 24
night_degc = 24
[[variety]]
name = "Quarry Pink"
role = "scion"
[[variety]]
name = "Ironfoot"
role = "rootstock"
[[lot]]
label = "QP"
variety = "Quarry Pink"
seeds = 40
[[lot]]
label = "IF"
variety = "Ironfoot"
seeds = 40
[[pairing]]
scion = "Quarry Pink"
rootstock = "Ironfoot"
want = 4
"""
HOUR = 3600
NOW = int(time.time()) // HOUR * HOUR
OLD = 20 * 24  # hours since the sowing


def instant(hours_ago):
    return time.strftime("%Y-%m-%dT%H:%M:%SZ", time.gmtime(NOW - hours_ago * HOUR))


class Grower:
    def __init__(self, place):
        self.place = place
        place.write("season.toml", SHEET.format(ready=time.strftime("%Y-%m-%d", time.gmtime(NOW + 30 * 24 * HOUR))))
        self.told("season", "load", place.path("season.toml"), now=OLD + 24)
        for lot, side in (("QP", "scion"), ("IF", "rootstock")):
            self.told("sow", lot, "20", "--as", side, "--at", instant(OLD))

    def told(self, *words, now=0):
        done = subprocess.run([f"{self.place.bin}/takehold", *words, "--book", self.place.path("book.db"), "--daemon",
                               "unix:" + self.place.path("c.sock"), "--now", instant(now), "--json"],
                              capture_output=True, text=True, timeout=120)
        assert done.returncode == 0, (words, done.stdout, done.stderr)
        return json.loads(done.stdout)

    def kept(self):
        rows = self.place.sql("SELECT hour, mean_degc FROM bench_hour WHERE bench = 'warm bench' ORDER BY hour", "book.db")
        return {int(h): float(t) for h, t in (row.split("|") for row in rows.splitlines())}

    def middle_mm(self, age=18):
        return next(b["p50_mm"] for b in self.told("growth", "show", "QP")["sowings"][0]["band"] if b["age_days"] == age)


def codes(document):
    return [note["code"] for note in document["warnings"]]


def push(place, probe, warm, hours):
    """Six readings an hour, on both sides of the mean."""
    batch = [{"probe": probe, "at": time.strftime("%Y-%m-%dT%H:%M:%SZ", time.gmtime(NOW - ago * HOUR + 600 * i + 5)),
              "temperature_degc": warm + (0.5 if i % 2 else -0.5), "humidity_pct": 60} for ago in hours for i in range(6)]
    for i in range(0, len(batch), 600):
        assert place.ask("POST", "/v1/readings", batch[i:i + 600]).status == 200


def what_the_probes_logged_is_the_warmth_and_a_gap_is_said(place):
    place.start()
    grower = Grower(place)
    of_sheet = grower.told("growth", "show", "QP")
    assert "warmth-of-sheet" in codes(of_sheet) and of_sheet["warmth"]["logged_hours"] == 0, of_sheet["warmth"]
    sheet_mm = grower.middle_mm()
    gap = range(200, 212)
    hours = [ago for ago in range(OLD, 0, -1) if ago not in gap]
    push(place, "near the glass", 17, hours)
    push(place, "by the wall", 19, hours)  # the bench: 18 on average, where the sheet says 24
    shown = grower.told("growth", "show", "QP")
    assert codes(shown) == ["warmth-gap"], shown["warnings"]
    assert shown["warmth"] == {"past_hours": OLD, "logged_hours": OLD - 12, "missing_hours": 12}, shown["warmth"]
    kept = grower.kept()
    assert len(kept) == OLD - 12 and all(abs(t - 18) < 0.2 for t in kept.values()), kept
    assert grower.middle_mm() < sheet_mm - 0.3, (grower.middle_mm(), sheet_mm)
    cold = grower.told("forecast", "P1", "--no-advice", "--seasons", "200")
    assert "warmth-gap" in codes(cold), cold["warnings"]


def what_was_kept_stays_when_nobody_answers_and_later_hours_are_added(place):
    place.start()
    grower = Grower(place)
    push(place, "by the wall", 18, range(OLD, 48, -1))
    fetched = grower.told("send", now=48)["benches"]
    assert fetched == [{"bench": "warm bench", "probes": ["near the glass", "by the wall"], "hours": OLD - 48}], fetched
    place.stop()
    shown = grower.told("growth", "show", "QP")
    assert codes(shown) == ["bench-not-asked", "warmth-gap"], shown["warnings"]
    assert shown["warmth"]["missing_hours"] == 48, shown["warmth"]
    place.start()
    push(place, "by the wall", 20, range(48, 0, -1))
    assert codes(grower.told("growth", "show", "QP")) == []
    kept = grower.kept()
    assert len(kept) == OLD and abs(kept[NOW // HOUR - 1] - 20) < 0.2 and abs(kept[NOW // HOUR - 100] - 18) < 0.2


if __name__ == "__main__":
    with Place(sys.argv[1], probes=PROBES) as place:
        globals()[sys.argv[2]](place)
