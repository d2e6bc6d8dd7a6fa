"""What chamberd takes of a small machine. usage: daemon_load.py BIN_DIR memory | cpu | polls

memory  8 probes and a year of log: private dirty under 8 MiB, resident under 24 MiB
cpu     8 HTTP probes at 1 Hz for 60 s: under 0.5 % of one core
polls   1000 HTTP probes at 1 Hz for 30 s, chamberd held to one core: no poll missed
"""
import asyncio
import os
import sqlite3
import sys
import threading
import time

sys.path.insert(0, os.path.join(os.path.dirname(__file__), "..", "system"))
from chamber_place import Place

ANSWER = b'{"t":24.5,"h":95.5}'
HEAD = b"HTTP/1.1 200 OK\r\nContent-Type: application/json\r\nContent-Length: %d\r\n\r\n" % len(ANSWER)


async def answer(reader, writer):
    try:
        while await reader.readuntil(b"\r\n\r\n"):
            writer.write(HEAD + ANSWER)
            await writer.drain()
    except (asyncio.IncompleteReadError, ConnectionError):
        writer.close()


def serve_probes():
    loop = asyncio.new_event_loop()
    server = loop.run_until_complete(asyncio.start_server(answer, "127.0.0.1", 0, backlog=2000))
    threading.Thread(target=loop.run_forever, daemon=True).start()
    return server.sockets[0].getsockname()[1]


def settings(place, count, port):
    place.settings("".join(f'[[probe]]\nname = "p{i}"\nkind = "http"\nurl = "http://127.0.0.1:{port}/{i}"\nevery = "1s"\n'
                           'json = { temperature = "/t", humidity = "/h" }\n' for i in range(count)))


def cpu_seconds(pid):
    fields = open(f"/proc/{pid}/stat").read().rsplit(")", 1)[1].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def fill_a_year(file, probes):
    """By hand, in the log's own tables: a stretch each two hours, a reading of each probe every 10 s, rollups of each minute and hour."""
    log = sqlite3.connect(file)
    log.execute("PRAGMA synchronous=OFF")
    begin = int(time.time()) // 3600 * 3600_000 - 365 * 86400_000
    row = log.execute("SELECT coalesce(max(row), 0) FROM reading").fetchone()[0]
    log.execute("CREATE TEMP TABLE n AS WITH RECURSIVE c(i) AS (SELECT 0 UNION ALL SELECT i + 1 FROM c WHERE i < 719) SELECT i FROM c")
    log.execute("CREATE TEMP TABLE p AS SELECT i FROM n WHERE i < ?", (probes,))
    for hour in range(0, 365 * 24 - 2, 2):
        start = begin + hour * 3600_000
        log.execute("INSERT INTO stretch VALUES (?, ?)", (row + 1, start))
        log.execute("INSERT INTO reading SELECT ?1 + n.i * ?2 + p.i + 1, n.i * 10000, p.i + 1, 24000 + n.i, 92000 + n.i, 0 "
                    "FROM n CROSS JOIN p", (row, probes))
        row += 720 * probes
        for level, length in (("minute", 60_000), ("hour", 3600_000)):
            log.execute(f"INSERT OR REPLACE INTO rollup_{level} SELECT (?1 + n.i) * 4096 + p.i + 1, 6, 60000, 24000, 24000, 26999, 92000, 92000, 96999 "
                        "FROM n CROSS JOIN p WHERE n.i < ?2", (start // length, 7200_000 // length))
    log.commit()
    log.close()
    os.sync()  # or chamberd's first commit waits for all of it


def memory(place):
    settings(place, 8, serve_probes())
    place.start()
    time.sleep(2)
    place.stop()
    fill_a_year(place.path("chamber.db"), 8)
    place.start()
    end = time.time() + 30
    while time.time() < end:  # as a page and a client would
        for target in ("/", "/v1/status", "/v1/readings", f"/v1/readings?points=2000&from={time.gmtime().tm_year - 1}-12-31T00:00:00Z"):
            place.ask("GET", target)
        time.sleep(1)
    found = {line.split(":")[0]: int(line.split()[1]) / 1024 for line in open(f"/proc/{place.daemon.pid}/smaps_rollup") if "kB" in line}
    print(f"private dirty {found['Private_Dirty']:.1f} MiB (wanted < 8), resident {found['Rss']:.1f} MiB (wanted < 24)")
    return found["Private_Dirty"] < 8 and found["Rss"] < 24


def cpu(place, seconds=60):
    settings(place, 8, serve_probes())
    place.start()
    time.sleep(5)
    before, begun = cpu_seconds(place.daemon.pid), time.time()
    time.sleep(seconds)
    share = (cpu_seconds(place.daemon.pid) - before) / (time.time() - begun)
    print(f"8 probes at 1 Hz: {share * 100:.2f} % of one core (wanted < 0.5)")
    return share < 0.005


def polls(place, seconds=30, count=1000):
    settings(place, count, serve_probes())
    place.start()
    os.sched_setaffinity(place.daemon.pid, {0})
    time.sleep(5)
    newest = lambda: int(place.sql("SELECT coalesce(max(row), 0) FROM reading"))
    first, begun, used = newest(), time.time(), cpu_seconds(place.daemon.pid)
    time.sleep(seconds)
    last, took, used = newest(), time.time() - begun, cpu_seconds(place.daemon.pid) - used
    good = int(place.sql(f"SELECT count(*) FROM reading WHERE quality < 2 AND row > {first} AND row <= {last}"))
    fewest = int(place.sql(f"SELECT min(n) FROM (SELECT count(*) AS n FROM reading WHERE quality < 2 AND row > {first} AND row <= {last} GROUP BY probe)"))
    print(f"{count} probes at 1 Hz: {good} readings in {took:.1f} s, of each probe at least {fewest}, {used / took * 100:.0f} % of one core")
    return fewest >= int(took) - 1 and good >= count * (int(took) - 1)


if __name__ == "__main__":
    with Place(sys.argv[1]) as the_place:
        sys.exit(0 if globals()[sys.argv[2]](the_place) else 1)
