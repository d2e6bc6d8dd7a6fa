"""What chamberd tells, to real servers and programs: over TLS, by mail, again after a failure, and that it is alive.
usage: notify_test.py BIN_DIR CASE"""
import email
import email.policy
import http.server
import json
import os
import ssl
import subprocess
import sys
import threading
import time

from chamber_place import Place, at

ONE_PROBE = '[[probe]]\nname = "sent"\nkind = "push"\n[warnings]\non_delay = "1s"\n'


class Server:
    """Keeps what it is sent; answers with the codes given, then with 200."""

    def __init__(self, codes=(), certificate=None):
        self.bodies, codes = [], list(codes)
        kept = self

        class Handler(http.server.BaseHTTPRequestHandler):
            def do_POST(self):
                body = json.loads(self.rfile.read(int(self.headers["Content-Length"])))
                code = codes.pop(0) if codes else 200
                kept.bodies.append((time.time(), code, body, self.headers.get("Authorization")))
                self.send_response(code)
                self.send_header("Content-Length", "0")
                self.end_headers()

            def log_message(self, *_):
                pass

        self.http = http.server.ThreadingHTTPServer(("127.0.0.1", 0), Handler)
        if certificate:
            context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
            context.load_cert_chain(*certificate)
            self.http.socket = context.wrap_socket(self.http.socket, server_side=True)
        self.url = f"http{'s' if certificate else ''}://127.0.0.1:{self.http.server_port}/ring"
        threading.Thread(target=self.http.serve_forever, daemon=True).start()

    def warnings(self, code=200):
        return [body for _, answered, body, _ in self.bodies if answered == code and body.get("event") == "warning"]


def certificate(place):
    """A certificate of our own for 127.0.0.1, trusted by nobody who is not told to."""
    key, cert = place.path("key.pem"), place.path("cert.pem")
    subprocess.run(["openssl", "req", "-x509", "-newkey", "rsa:2048", "-nodes", "-keyout", key, "-out", cert, "-days", "2",
                    "-subj", "/CN=ring", "-addext", "subjectAltName=IP:127.0.0.1"], check=True, capture_output=True)
    return cert, key


def dry_air(place):
    """Air outside its band for longer than the on-delay: one warning."""
    place.push(moist=70)
    time.sleep(1.5)
    place.push(moist=70)
    place.wait_for(lambda: place.ask("GET", "/v1/warnings").json()["warnings"])


def a_server_is_told_over_tls_and_a_stranger_nothing(place):
    cert = certificate(place)
    known, stranger = Server(certificate=cert), Server(certificate=cert)
    place.write("bearer", "a-secret-of-this-test\n", 0o600)
    place.settings(ONE_PROBE, f'[[notify]]\nkind = "webhook"\nurl = "{known.url}"\nca_file = "cert.pem"\ntoken_file = "bearer"\n'
                              f'[[notify]]\nkind = "webhook"\nurl = "{stranger.url}"\n')
    place.start()
    place.put("G1")
    dry_air(place)
    place.wait_for(known.warnings)
    body = known.warnings()[0]
    assert body["kind"] == "outside" and body["about"] == "humidity" and "G1" in body["text"], body
    assert known.bodies[0][3] == "Bearer a-secret-of-this-test", known.bodies
    place.wait_for(lambda: "certificate" in place.words())
    assert not stranger.bodies, "told to a server whose certificate nobody vouches for"


def what_failed_is_told_again_later_and_after_a_restart_not_once_more(place):
    server = Server(codes=[500, 503])
    place.settings(ONE_PROBE, f'[[notify]]\nkind = "webhook"\nurl = "{server.url}"\n')
    place.start()
    place.put("G1")
    dry_air(place)
    place.wait_for(server.warnings, 60)
    pauses = [b[0] - a[0] for a, b in zip(server.bodies, server.bodies[1:])]
    assert [b[1] for b in server.bodies] == [500, 503, 200], server.bodies
    assert 9 < pauses[0] < 16 and 19 < pauses[1] < 30, pauses
    assert place.stop() == 0
    place.start()
    place.push(moist=70)
    time.sleep(1.5)
    place.push(moist=70)
    time.sleep(1)
    standing = [w for w in place.ask("GET", "/v1/warnings").json()["warnings"] if w["kind"] == "outside"]
    assert len(standing) == 1, standing
    assert len(server.warnings()) == 1, server.bodies


def a_letter_is_one_that_mail_programs_can_read(place):
    place.write("post", f'#!/bin/sh\necho "$@" >> {place.path("words")}\ncat >> {place.path("letter")}\n', 0o755)
    place.settings(ONE_PROBE, f'[[notify]]\nkind = "mail"\nto = ["grower@example.org", "friend@example.org"]\n'
                              f'from = "chamber@example.org"\ncommand = ["{place.path("post")}", "-i", "-t"]\n')
    place.start()
    place.put("G1")
    dry_air(place)
    place.wait_for(lambda: os.path.exists(place.path("letter")) and os.path.getsize(place.path("letter")))
    with open(place.path("letter"), "rb") as file:
        letter = email.message_from_bytes(file.read(), policy=email.policy.default)
    assert open(place.path("words")).read() == "-i -t\n"
    assert not letter.defects, letter.defects
    assert [a.addr_spec for a in letter["To"].addresses] == ["grower@example.org", "friend@example.org"], letter["To"]
    assert letter["From"].addresses[0].addr_spec == "chamber@example.org"
    assert abs(letter["Date"].datetime.timestamp() - time.time()) < 60, letter["Date"]
    assert "humidity 70.0 %" in letter["Subject"] and "G1" in letter.get_content(), letter.as_string()
    assert "takehold seen W" in letter.get_content()


def a_trial_reaches_each_and_says_which_it_did_not(place):
    server = Server()
    place.write("post", f'#!/bin/sh\ncat > {place.path("letter")}\n', 0o755)
    place.settings(ONE_PROBE, f'[[notify]]\nkind = "webhook"\nurl = "{server.url}"\n'
                              f'[[notify]]\nkind = "mail"\nto = ["grower@example.org"]\nfrom = "c@example.org"\ncommand = ["{place.path("post")}"]\n'
                              f'[[notify]]\nkind = "command"\ncommand = ["false"]\n')
    done = place.run("--try-notify")
    said = [json.loads(line) for line in done.stdout.splitlines()]
    assert [s["arrived"] for s in said] == [True, True, False], said
    assert done.returncode == 1 and said[2]["trouble"], done
    assert "a trial" in server.bodies[0][2]["text"]
    assert "a trial" in open(place.path("letter")).read()


def somebody_hears_that_it_lives_until_it_does_not(place):
    server = Server()
    place.settings(ONE_PROBE, f'[alive]\nurl = "{server.url}"\nevery = "10s"\n')
    place.start()
    place.wait_for(lambda: len(server.bodies) >= 2)
    assert server.bodies[0][2]["alive"] == "healing chamber", server.bodies
    assert 8 < server.bodies[1][0] - server.bodies[0][0] < 15
    place.stop()
    heard = len(server.bodies)
    time.sleep(12)
    assert len(server.bodies) == heard


def quiet_hours_never_silence_air_outside_its_band(place):
    quiet, loud = Server(), Server()
    place.settings(ONE_PROBE, f'[[notify]]\nkind = "webhook"\nurl = "{quiet.url}"\nquiet = "00:00-23:59"\n'
                              f'[[notify]]\nkind = "webhook"\nurl = "{loud.url}"\n')
    place.start()
    place.put("G1")
    dry_air(place)
    place.wait_for(lambda: quiet.warnings() and loud.warnings())
    time.sleep(1.2)
    place.push(moist=96)
    place.wait_for(lambda: any(body["event"] == "cleared" for _, _, body, _ in loud.bodies))
    time.sleep(1)
    assert [body["event"] for _, _, body, _ in quiet.bodies] == ["warning"], quiet.bodies


def what_is_put_off_is_not_told_until_its_end(place):
    server = Server()
    place.settings(ONE_PROBE, f'[[notify]]\nkind = "webhook"\nurl = "{server.url}"\n')
    place.start()
    place.put("G1")
    dry_air(place)
    place.wait_for(server.warnings)
    number = server.warnings()[0]["id"]
    assert place.ask("POST", f"/v1/warnings/{number}/shelve", {}).status in (400, 422), "it must have an end"
    assert place.ask("POST", f"/v1/warnings/{number}/shelve", {"until": at(3600)}).status == 200
    time.sleep(1.2)
    place.push(moist=96)
    place.wait_for(lambda: all(w["cleared_at"] for w in place.ask("GET", "/v1/warnings").json()["warnings"] if w["id"] == number))
    time.sleep(1)
    assert [body["event"] for _, _, body, _ in server.bodies] == ["warning"], server.bodies


def a_bad_address_is_refused_with_its_line(place):
    place.settings(ONE_PROBE, '[[notify]]\nkind = "mail"\nto = ["grower@example.org\\nBcc: all@example.org"]\nfrom = "c@example.org"\n')
    done = place.run("--check")
    assert done.returncode == 1 and "not a mail address" in done.stderr and "s.toml:" in done.stderr, done


if __name__ == "__main__":
    with Place(sys.argv[1]) as place:
        globals()[sys.argv[2]](place)
