"""Who may do what, each right tried from the wrong side. usage: rights_test.py BIN_DIR CASE"""
import json
import os
import socket
import stat
import subprocess
import sys

from chamber_place import BOOK, GROWER, PUSHER, REGIME, Place, at

READING = {"probe": "sent", "temperature_degc": 25, "humidity_pct": 95}
OCCUPANT = {"book": BOOK, "revision": 1, "entered_at": at(-60), "regime": REGIME}


def bearer(secret, **more):
    return {"Authorization": f"Bearer {secret}", **more}


def code(answer):
    assert answer.headers["Content-Type"] == "application/problem+json", answer.headers
    problem = answer.json()
    assert problem["status"] == answer.status, problem
    return answer.status, problem["code"]


def over_tcp_a_write_needs_a_token_on_loopback_too(place):
    place.start()
    for method, target, body in [("POST", "/v1/readings", READING), ("PUT", "/v1/occupants/G1", OCCUPANT),
                                 ("DELETE", "/v1/occupants/G1", None), ("POST", "/v1/warnings/W1/acknowledge", None),
                                 ("POST", "/v1/warnings/W1/shelve", {"until": at(600)})]:
        assert code(place.ask_tcp(method, target, body)) == (401, "no-token"), (method, target)
        assert code(place.ask_tcp(method, target, body, bearer("x" * 26))) == (403, "wrong-token"), (method, target)
    assert place.ask_tcp("PUT", "/v1/occupants/G1", OCCUPANT, bearer(GROWER)).status == 200
    assert place.ask_tcp("GET", "/v1/status").status == 200  # reading, on loopback, needs none
    assert "WWW-Authenticate" in place.ask_tcp("POST", "/v1/readings", READING).headers


def a_token_that_pushes_pushes_its_own_probes_and_nothing_else(place):
    place.start()
    assert place.ask_tcp("POST", "/v1/readings", READING, bearer(PUSHER)).json() == {"accepted": 1, "ignored": 0}
    assert code(place.ask_tcp("POST", "/v1/readings", {**READING, "probe": "other"}, bearer(PUSHER))) == (403, "not-allowed")
    assert code(place.ask_tcp("POST", "/v1/readings", [READING, {**READING, "probe": "other"}], bearer(PUSHER)))[0] == 403
    assert code(place.ask_tcp("PUT", "/v1/occupants/G1", OCCUPANT, bearer(PUSHER))) == (403, "not-allowed")
    assert code(place.ask_tcp("GET", f"/?token={PUSHER}")) == (403, "not-allowed")


def a_page_elsewhere_cannot_speak_through_a_browser(place):
    place.start()
    ours = f"127.0.0.1:{place.port}"
    assert code(place.ask_tcp("GET", "/v1/status", headers={"Host": "elsewhere.example"})) == (403, "wrong-host")
    assert code(place.ask_tcp("GET", "/v1/status", headers={"Host": f"elsewhere.example:{place.port}"})) == (403, "wrong-host")
    for origin in ["http://elsewhere.example", "null", f"https://{ours}", f"http://127.0.0.1:{place.port + 1}"]:
        answer = place.ask_tcp("POST", "/v1/readings", READING, bearer(GROWER, Origin=origin))
        assert code(answer) == (403, "wrong-origin"), origin
        answer = place.ask_tcp("POST", "/v1/readings", READING, {"Cookie": f"takehold={GROWER}", "Origin": origin})
        assert code(answer) == (403, "wrong-origin"), origin
    assert place.ask_tcp("POST", "/v1/readings", READING, bearer(GROWER, Origin=f"http://{ours}")).status == 200
    assert code(place.ask_tcp("GET", f"/?token={GROWER}", headers={"Host": "elsewhere.example"})) == (403, "wrong-host")


def the_phone_changes_its_token_for_a_cookie(place):
    place.start()
    answer = place.ask_tcp("GET", f"/?token={GROWER}")
    assert (answer.status, answer.headers["Location"]) == (303, "/"), answer.status
    cookie = answer.headers["Set-Cookie"]
    assert "HttpOnly" in cookie and "SameSite=Strict" in cookie and "Path=/" in cookie, cookie
    shown = {"Cookie": "other=1; " + cookie.split(";")[0]}
    assert place.ask_tcp("PUT", "/v1/occupants/G1", OCCUPANT, shown).status == 200
    assert code(place.ask_tcp("PUT", "/v1/occupants/G2", OCCUPANT, {"Cookie": "takehold=" + "x" * 26})) == (403, "wrong-token")
    assert code(place.ask_tcp("GET", "/?token=" + "x" * 26)) == (403, "wrong-token")
    assert GROWER not in place.words(), "the journal tells a secret"


def from_another_machine_reading_needs_a_token_too(place):
    """Seen from chamberd, this machine's own address in its network is not loopback."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as knock:
        knock.connect(("192.0.2.1", 9))  # RFC 5737's example network: no packet is sent
        own = knock.getsockname()[0]
    assert not own.startswith("127."), "this machine has no address but loopback"
    place.tcp_host = "0.0.0.0"
    place.settings('[[probe]]\nname = "sent"\nkind = "push"\n')
    place.start()
    for target in ["/", "/v1/status", "/v1/readings", "/v1/live", "/v1/warnings", "/v1/occupants", "/v1/exposure/G1"]:
        assert code(place.ask_tcp("GET", target, host=own)) == (401, "no-token"), target
    assert code(place.ask_tcp("GET", "/v1/status", headers=bearer(PUSHER), host=own)) == (403, "not-allowed")
    assert place.ask_tcp("GET", "/v1/status", headers=bearer(GROWER), host=own).status == 200
    assert place.ask_tcp("GET", "/v1/status", headers={"Cookie": f"takehold={GROWER}"}, host=own).status == 200


def the_sockets_mode_is_the_right_and_the_journal_says_who(place):
    place.start()
    assert stat.S_IMODE(os.stat(place.path("c.sock")).st_mode) == 0o660
    assert place.put("G1").status == 200
    assert f"PUT /v1/occupants/G1 by uid {os.getuid()}: 200" in place.words(), place.words()
    if os.getuid() == 0:  # somebody else, neither owner nor group, is kept out by the file system
        os.chmod(place.dir, 0o755)
        child = os.fork()
        if child == 0:
            os.setgroups([])
            os.setgid(65534)
            os.setuid(65534)
            try:
                socket.socket(socket.AF_UNIX).connect(place.path("c.sock"))
                os._exit(1)
            except PermissionError:
                os._exit(0)
        assert os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 0, "a stranger could connect"


def a_token_file_that_others_may_read_is_refused(place):
    os.chmod(place.path("tokens.toml"), 0o640)
    ended = place.run()
    assert ended.returncode == 1 and "chmod 600" in ended.stderr, ended


def what_is_too_big_is_refused(place):
    place.start()
    answer = place.ask("POST", "/v1/readings", " " * (1024 * 1024 + 1))
    assert code(answer)[0] == 413, answer.status
    answer = place.ask("GET", "/v1/status", headers={"X-Long": "x" * 9000})
    assert code(answer)[0] == 431, answer.status
    many = [{**READING, "at": at(-i)} for i in range(1001)]
    assert code(place.ask("POST", "/v1/readings", many)) == (413, "too-many")
    assert code(place.ask("POST", "/v1/readings", "{")) == (400, "bad-json")
    raw = socket.socket(socket.AF_UNIX)
    raw.connect(place.path("c.sock"))
    raw.sendall(b"\x00\x01\x02 nonsense\r\n\r\n")
    assert raw.recv(100).startswith(b"HTTP/1.1 400"), "bytes that are no request"
    assert place.ask("GET", "/v1/status").status == 200


def the_grower_elsewhere_brings_a_token_from_a_file(place):
    """takehold on another machine: daemon and token_file of takehold.toml."""
    place.start()
    place.write("token", GROWER + "\n", 0o600)
    place.write("season.toml", 'season = "2027"\nready_on = 2027-05-15\n[[bench]]\nname = "bench"\nday_degc = 24\nnight_degc = 20\nday_hours = 14\n'
                '[[variety]]\nname = "Quarry Pink"\n[[variety]]\nname = "Ironfoot"\n'
                '[[lot]]\nlabel = "QP"\nvariety = "Quarry Pink"\nseeds = 30\n[[lot]]\nlabel = "IF"\nvariety = "Ironfoot"\nseeds = 30\n'
                '[[pairing]]\nscion = "Quarry Pink"\nrootstock = "Ironfoot"\nwant = 6\n')

    def told(token, *words):
        place.write("takehold.toml", f'book = "book.db"\ndaemon = "http://127.0.0.1:{place.port}"\n{token}')
        ended = subprocess.run([f"{place.bin}/takehold", "--settings", place.path("takehold.toml"), "--json", *words],
                               capture_output=True, text=True, timeout=60)
        assert ended.returncode == 0, ended
        return json.loads(ended.stdout)

    told("", "season", "load", place.path("season.toml"))
    told("", "sow", "QP", "12")
    told("", "sow", "IF", "12")
    refused = told("", "graft", "P1", "--count", "2")["warnings"]
    assert refused[0]["code"] == "daemon-refused", refused
    place.write("token", GROWER + "\n", 0o644)
    open_to_all = told('token_file = "token"\n', "graft", "P1", "--count", "3")["warnings"]
    assert open_to_all[0]["code"] == "daemon-not-told" and "others can read" in open_to_all[0]["text"], open_to_all
    place.write("token", GROWER + "\n", 0o600)
    assert not told('token_file = "token"\n', "graft", "P1", "--count", "4")["warnings"]
    labels = [o["label"] for o in place.ask("GET", "/v1/occupants").json()["occupants"]]
    assert "G3" in labels and "G2" in labels and "G1" not in labels, labels  # a refusal waits for `send`
    told('token_file = "token"\n', "send")
    assert "G1" in [o["label"] for o in place.ask("GET", "/v1/occupants").json()["occupants"]]


if __name__ == "__main__":
    with Place(sys.argv[1]) as the_place:
        globals()[sys.argv[2]](the_place)
    print("passed:", sys.argv[2])
