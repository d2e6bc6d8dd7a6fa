"""chamberd in service: live streams, reload, backup, doctor, kill -9. usage: service_test.py BIN_DIR CASE"""
import itertools
import json
import os
import random
import resource
import signal
import socket
import subprocess
import sys
import time

from chamber_place import GROWER, Place, UnixConnection, at


def listen(place, last=None):
    """A socket on /v1/live, its head read."""
    stream = socket.socket(socket.AF_UNIX)
    stream.settimeout(20)
    stream.connect(place.path("c.sock"))
    resume = f"Last-Event-ID: {last}\r\n" if last is not None else ""
    stream.sendall(f"GET /v1/live HTTP/1.1\r\nHost: chamber\r\n{resume}\r\n".encode())
    return stream


def events(stream, until):
    """(id, event, data) up to and including the first that `until` takes."""
    text, found = b"", []
    while True:
        piece = stream.recv(65536)
        assert piece, "the stream ended"
        text += piece
        while b"\n\n" in text:
            block, text = text.split(b"\n\n", 1)
            fields = dict(line.split(": ", 1) for line in block.decode().splitlines() if ": " in line and not line.startswith(":"))
            if "event" not in fields:
                continue
            found.append((int(fields["id"]) if "id" in fields else None, fields["event"], json.loads(fields["data"])))
            if until(found[-1]):
                return found


def a_hundred_listeners_all_hear(place):
    place.start()
    streams = [listen(place) for _ in range(100)]
    for stream in streams:
        events(stream, lambda e: e[1] == "status")
    place.push(-5, warm=23.5)
    for stream in streams:
        heard = events(stream, lambda e: e[1] == "reading")[-1]
        assert heard[2]["temperature_degc"] == 23.5 and heard[0] > 0, heard


def who_comes_back_hears_what_was_missed(place):
    place.start()
    place.push(-50, warm=21)
    stream = listen(place)
    events(stream, lambda e: e[1] == "status")
    place.push(-40, warm=22)
    seen = events(stream, lambda e: e[1] == "reading")[-1][0]
    stream.close()
    place.push(-30, warm=23)
    place.push(-20, warm=24)
    again = events(listen(place, seen), lambda e: e[1] == "status")
    assert [e[2]["temperature_degc"] for e in again if e[1] == "reading"] == [23, 24], again
    assert place.stop() == 0
    place.start()  # the rows are those of the log: they outlive the daemon
    again = events(listen(place, seen), lambda e: e[1] == "status")
    assert [e[2]["temperature_degc"] for e in again if e[1] == "reading"] == [23, 24], again


def who_was_away_for_long_misses_nothing(place):
    """More rows than wait in memory for a listener, and than are read from the log at once."""
    place.start()
    place.push(-9000)
    place.put("G1")  # an event in between
    stay = listen(place)
    events(stay, lambda e: e[1] == "status")
    for start in range(0, 3000, 1000):
        batch = [{"probe": "sent", "at": at(-8000 + start + i), "temperature_degc": 25, "humidity_pct": 95} for i in range(1000)]
        assert place.ask("POST", "/v1/readings", batch).json()["accepted"] == 1000
    newest = int(place.sql("SELECT max(row) FROM (SELECT row FROM reading UNION ALL SELECT row FROM event)"))
    wanted = [int(row) for row in place.sql("SELECT row FROM (SELECT row FROM reading UNION ALL SELECT row FROM event) WHERE row > 1 ORDER BY row").split()]
    assert len(wanted) >= 3000 and wanted[-1] == newest
    for i, stream in enumerate((stay, listen(place, 1))):  # one that heard a thousand at once three times, one that comes back
        heard = [e[0] for e in events(stream, lambda e: e[0] == newest) if e[0] is not None]
        assert heard == wanted[-len(heard):] and len(heard) >= 3000, (len(heard), heard[:3], wanted[:3])
        place.push(-9100 - i)
        newest = int(place.sql("SELECT max(row) FROM reading"))
        assert events(stream, lambda e: e[1] == "reading")[-1][0] == newest  # and goes on
        wanted.append(newest)


def a_listener_that_does_not_read_is_dropped_and_holds_up_nobody(place):
    place.start()
    lazy = listen(place)
    lazy.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 4096)
    begun = time.time()
    connection = UnixConnection(place.path("c.sock"))
    for i in range(1500):
        connection.request("POST", "/v1/readings", json.dumps({"probe": "sent", "at": at(-4000 + i), "temperature_degc": 25, "humidity_pct": 95}))
        assert connection.getresponse().read() == b'{"accepted":1,"ignored":0}\n'
    assert place.sql("SELECT count(*) FROM reading") == "1500"
    assert time.time() - begun < 60
    time.sleep(12)  # longer than a piece may take to be read
    received = 0
    lazy.settimeout(30)
    while piece := lazy.recv(1 << 20):  # ends: it was let go
        received += len(piece)
    assert received > 0


def hanging_up_on_the_service_takes_new_settings_or_none(place):
    place.start()
    pid = place.daemon.pid
    place.push(-5)
    place.settings('[[probe]]\nname = "sent"\nkind = "push"\n[[probe]]\nname = "third"\nkind = "push"\n')
    place.daemon.send_signal(signal.SIGHUP)
    place.wait_for(lambda: [p["name"] for p in place.ask("GET", "/v1/status").json()["probes"]] == ["sent", "third"])
    assert "settings: read again" in place.words()
    place.settings('[[probe]]\nname = "sent"\nkind = "pushed"\n')
    place.daemon.send_signal(signal.SIGHUP)
    place.wait_for(lambda: "the old ones stay" in place.words())
    assert "s.toml" in place.words()
    with socket.socket() as taken:  # settings that are right and cannot be carried out
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        place.port, before = taken.getsockname()[1], place.port
        place.settings('[[probe]]\nname = "fourth"\nkind = "push"\n')
        place.daemon.send_signal(signal.SIGHUP)
        place.wait_for(lambda: "cannot be carried out" in place.words())
        place.port = before
    place.wait_for(lambda: place.ask("GET", "/v1/status").status == 200)
    assert [p["name"] for p in place.ask("GET", "/v1/status").json()["probes"]] == ["sent", "third"]
    assert place.push(-3).status == 200 and place.daemon.pid == pid and place.daemon.poll() is None
    assert place.stop() == 0


def the_log_is_copied_while_it_is_written(place):
    place.start()
    for i in range(20):
        place.push(-100 + i)
    ended = place.run("backup", place.path("copy.db"))
    assert ended.returncode == 0, ended
    place.push(-1)
    assert place.sql("PRAGMA integrity_check", "copy.db") == "ok"
    assert place.sql("SELECT count(*) FROM reading", "copy.db") == "20"
    assert place.run("backup", place.path("chamber.db")).returncode == 1


def the_doctor_says_what_is_wrong_in_plain_words(place):
    ended = place.run("doctor")
    assert ended.returncode == 0 and "GB free" in ended.stdout and "BAD" not in ended.stdout, ended
    place.settings('[[probe]]\nname = "left"\nkind = "serial"\ndevice = "/dev/no-such-line"\ntimeout = "1s"\nevery = "1s"\n'
                   'text = { format = "key=value", temperature = "t", humidity = "h" }\n')
    os.chmod(place.path("tokens.toml"), 0o644)
    ended = place.run("doctor")
    assert ended.returncode == 1, ended
    assert "BAD   left: /dev/no-such-line is not there: is it plugged in?" in ended.stdout, ended.stdout
    assert "chmod 600" in ended.stdout, ended.stdout


def killed_at_any_moment_nothing_acknowledged_is_lost_or_doubled(place, rounds=20):
    random.seed(7)
    second, acknowledged = -400000, []
    for _ in range(rounds):
        place.start()
        end = time.time() + random.uniform(0.0, 0.3)
        connection = UnixConnection(place.path("c.sock"))
        while time.time() < end:
            second += 1
            when = at(second)
            connection.request("POST", "/v1/readings", json.dumps({"probe": "sent", "at": when, "temperature_degc": 25, "humidity_pct": 95}))
            if time.time() >= end - 0.002:  # the kill comes while this one is under way
                place.stop(signal.SIGKILL)
            try:
                answer = connection.getresponse()
                if answer.status == 200 and b'"accepted":1' in answer.read():
                    acknowledged.append(when)
            except OSError:
                break
            except Exception:  # half an answer is none
                break
        place.stop(signal.SIGKILL)
        assert place.sql("PRAGMA integrity_check") == "ok"
    assert len(acknowledged) > rounds
    there = place.sql("SELECT strftime('%Y-%m-%dT%H:%M:%SZ', at_ms / 1000, 'unixepoch') FROM reading_at").splitlines()
    assert len(there) == len(set(there)), "a reading is there twice"
    assert set(acknowledged) <= set(there), set(acknowledged) - set(there)


def unplugged_and_plugged_in_again_it_is_found_by_its_name(place):
    """socat holds both ends of the line: ending it takes the device away as pulling the plug does."""
    place.settings(f'[[probe]]\nname = "left"\nkind = "serial"\ndevice = "{place.path("line")}"\nevery = "100ms"\ntimeout = "300ms"\n'
                   'text = { format = "key=value", temperature = "t", humidity = "h" }\n')

    def plug():
        ours = subprocess.Popen(["socat", f"PTY,link={place.path('line')},raw,echo=0", "EXEC:'sh -c \"while echo t=24.5 h=95; do sleep 0.1; done\"'"],
                                stderr=subprocess.DEVNULL)
        place.wait_for(lambda: os.path.exists(place.path("line")))
        return ours

    def good():
        return int(place.sql("SELECT count(*) FROM reading WHERE quality = 0"))

    line = plug()
    try:
        place.start()
        place.wait_for(lambda: good() > 3)
        line.terminate()
        line.wait()
        time.sleep(1)
        assert place.daemon.poll() is None, "chamberd ended with its probe"
        before = good()
        line = plug()
        place.wait_for(lambda: good() > before + 3, 60)
    finally:
        line.terminate()
        line.wait()


def systemd_hears_that_it_is_ready_and_that_sampling_goes_on(place):
    """What sd_notify(3) says, read from a socket of our own in systemd's place."""
    place.write("air.txt", "t=24.5 h=95\n")
    place.settings(f'[[probe]]\nname = "left"\nkind = "file"\nfile = "{place.path("air.txt")}"\nevery = "200ms"\n'
                   'text = { format = "key=value", temperature = "t", humidity = "h" }\n')
    with socket.socket(socket.AF_UNIX, socket.SOCK_DGRAM) as systemd:
        systemd.bind(place.path("notify"))
        systemd.settimeout(20)

        def hears(word):
            while word not in systemd.recv(4096).decode().splitlines():
                pass

        place.start(NOTIFY_SOCKET=place.path("notify"), WATCHDOG_USEC="1000000")
        hears("READY=1")
        for _ in range(3):
            hears("WATCHDOG=1")
        place.daemon.send_signal(signal.SIGHUP)
        hears("RELOADING=1")
        hears("READY=1")
        place.daemon.send_signal(signal.SIGTERM)
        hears("STOPPING=1")
        assert place.daemon.wait(timeout=20) == 0
        place.daemon = None


def a_full_disk_stops_no_sampling_and_nothing_is_lost(place):
    """A limit on the size of its files is a disk that is full; raising it makes room."""
    place.write("air.txt", "")
    place.settings(f'[[probe]]\nname = "left"\nkind = "file"\nfile = "{place.path("air.txt")}"\nevery = "100ms"\n'
                   'text = { format = "key=value", temperature = "t", humidity = "h" }\n')
    place.start()

    def told(i):  # a changed file is a new reading
        place.write("air.txt", f"t={24 + i % 10 / 100:.2f} h=95\n")
        time.sleep(0.12)

    def kept():
        return int(place.sql("SELECT count(*) FROM reading"))

    def log():
        return place.ask("GET", "/v1/status").json()["log"]

    for i in range(10):
        told(i)
    place.wait_for(lambda: kept() > 3)
    unlimited = resource.prlimit(place.daemon.pid, resource.RLIMIT_FSIZE)
    resource.prlimit(place.daemon.pid, resource.RLIMIT_FSIZE, (1, unlimited[1]))
    before = kept()
    tellings = itertools.count()
    place.wait_for(lambda: told(next(tellings)) or log()["waiting"] > 10)
    assert place.daemon.poll() is None and kept() == before
    status = place.ask("GET", "/v1/status").json()
    assert status["air"]["humidity_pct"] == 95, status  # it is still seen what the air is
    assert not log()["written"] and log()["error"] and log()["since_at"], log()
    resource.prlimit(place.daemon.pid, resource.RLIMIT_FSIZE, unlimited)
    place.wait_for(lambda: log()["waiting"] == 0 and log()["written"], 60)
    assert kept() >= before + 10, (before, kept())
    assert place.sql("PRAGMA integrity_check") == "ok"


def a_pattern_is_held_against_the_users_line(place):
    pattern = "T=(?<temperature>[-0-9.]+) H=(?<humidity>[0-9.]+)"
    right = place.run("--try-pattern", pattern, "T=23.4 H=95.1")
    assert right.returncode == 0 and "23.4" in right.stdout and "95.1" in right.stdout, right
    wrong = place.run("--try-pattern", pattern, "temperature 23.4")
    assert wrong.returncode == 1 and wrong.stdout + wrong.stderr, wrong
    broken = place.run("--try-pattern", "T=(?<temperature>[-0-9.]+", "T=23.4")
    assert broken.returncode != 0 and "regular expression" in broken.stderr, broken


if __name__ == "__main__":
    with Place(sys.argv[1]) as the_place:
        globals()[sys.argv[2]](the_place, *map(int, sys.argv[3:]))
    print("passed:", sys.argv[2])
