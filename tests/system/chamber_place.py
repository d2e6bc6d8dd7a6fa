"""A real chamberd in a folder of its own, spoken to over its real sockets. Python's own library only."""
import http.client
import json
import os
import signal
import socket
import subprocess
import tempfile
import time

GROWER = "grower-secret-of-the-tests"
PUSHER = "pusher-secret-of-the-tests"
BOOK = "3f2504e0-4f89-41d3-9a0c-0305e82c3301"
REGIME = {"name": "by hand", "source": "ours", "stages": [
    {"name": "closed", "where": "chamber", "hours": 72, "temperature_degc": [22, 29], "humidity_pct": [90, 100]}]}


def at(seconds):
    return time.strftime("%Y-%m-%dT%H:%M:%SZ", time.gmtime(time.time() + seconds))


def free_port():
    with socket.socket() as s:
        s.bind(("127.0.0.1", 0))
        return s.getsockname()[1]


class UnixConnection(http.client.HTTPConnection):
    def __init__(self, path, timeout=10):
        super().__init__("chamber", timeout=timeout)
        self.path = path

    def connect(self):
        self.sock = socket.socket(socket.AF_UNIX)
        self.sock.settimeout(self.timeout)
        self.sock.connect(self.path)


class Answer:
    def __init__(self, response):
        self.status = response.status
        self.headers = response.headers
        self.body = response.read()

    def json(self):
        return json.loads(self.body)


class Place:
    def __init__(self, bin_dir, probes='[[probe]]\nname = "sent"\nkind = "push"\n[[probe]]\nname = "other"\nkind = "push"\n',
                 tcp_host="127.0.0.1", more=""):
        self.bin = bin_dir
        self.folder = tempfile.TemporaryDirectory(prefix="takehold-test-")
        self.dir = self.folder.name
        self.port = free_port()
        self.tcp_host = tcp_host
        self.daemon = None
        self.write("tokens.toml", f'[[token]]\nkind = "grower"\nsecret = "{GROWER}"\n'
                                  f'[[token]]\nkind = "push"\nsecret = "{PUSHER}"\nprobes = ["sent"]\n', 0o600)
        self.settings(probes, more)

    def settings(self, probes, more=""):
        self.write("s.toml", f'[log]\nfile = "chamber.db"\n[listen]\nsocket = "c.sock"\ntcp = "{self.tcp_host}:{self.port}"\n'
                             f'token_file = "tokens.toml"\n{probes}{more}')

    def path(self, name):
        return os.path.join(self.dir, name)

    def write(self, name, text, mode=0o644):
        with open(self.path(name), "w") as file:
            file.write(text)
        os.chmod(self.path(name), mode)

    def start(self, **environment):
        self.said = open(self.path("said"), "a")
        self.daemon = subprocess.Popen([f"{self.bin}/chamberd", "--settings", self.path("s.toml")], stderr=self.said,
                                       env={**os.environ, **environment})
        self.wait_for(lambda: self.ask("GET", "/v1/status").status == 200)
        return self

    def wait_for(self, truth, seconds=30):
        end = time.time() + seconds
        while True:
            try:
                if truth():
                    return
            except (OSError, http.client.HTTPException):
                pass
            assert time.time() < end, "waited in vain; chamberd said:\n" + open(self.path("said")).read()
            time.sleep(0.05)

    def stop(self, how=signal.SIGTERM):
        if self.daemon is None:
            return None
        self.daemon.send_signal(how)
        code = self.daemon.wait(timeout=20)
        self.daemon = None
        return code

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self.stop(signal.SIGKILL)
        self.folder.cleanup()

    def words(self):
        return open(self.path("said")).read()

    def run(self, *arguments):
        return subprocess.run([f"{self.bin}/chamberd", "--settings", self.path("s.toml"), *arguments],
                              capture_output=True, text=True, timeout=60)

    def sql(self, query, file="chamber.db"):
        return subprocess.run(["sqlite3", self.path(file), query], capture_output=True, text=True, check=True).stdout.strip()

    def ask(self, method, target, body=None, headers=None):
        """Over the Unix socket."""
        return self._ask(UnixConnection(self.path("c.sock")), method, target, body, headers)

    def ask_tcp(self, method, target, body=None, headers=None, host="127.0.0.1"):
        return self._ask(http.client.HTTPConnection(host, self.port, timeout=15), method, target, body, headers)

    @staticmethod
    def _ask(connection, method, target, body, headers):
        if body is not None and not isinstance(body, (str, bytes)):
            body = json.dumps(body)
        try:
            connection.request(method, target, body, headers or {})
            return Answer(connection.getresponse())
        finally:
            connection.close()

    def push(self, seconds=0, warm=25, moist=95, probe="sent"):
        return self.ask("POST", "/v1/readings",
                        {"probe": probe, "at": at(seconds), "temperature_degc": warm, "humidity_pct": moist})

    def put(self, label, hours_ago=1, revision=1, book=BOOK):
        return self.ask("PUT", f"/v1/occupants/{label}",
                        {"book": book, "revision": revision, "pairing": "Quarry Pink/Ironfoot", "count": 12,
                         "entered_at": at(-3600 * hours_ago), "left_at": None, "regime": REGIME, "events": []})
