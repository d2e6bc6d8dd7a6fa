"""A probe in a box with a network, on Python's own http.server. Prints its port, then one line a request:
the number of its connection, its path and its Authorization.
"""
import http.server
import itertools
import time

numbers = itertools.count(1)


class Handler(http.server.BaseHTTPRequestHandler):
    protocol_version = "HTTP/1.1"

    def setup(self):
        super().setup()
        self.number = next(numbers)

    def log_message(self, *args):
        pass

    def answer(self, status, body):
        self.send_response(status)
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)

    def do_GET(self):
        login = self.headers.get("Authorization", "-")
        print(f"{self.number} {self.path} {login}\n", end="", flush=True)  # in one piece: threads would mix
        if self.path == "/closing":  # without a word of warning
            self.close_connection = True
        if self.path == "/slow":
            time.sleep(20)
        if self.path == "/long":
            return self.answer(200, b'{"temperature_degc": 20, "x": "' + b"x" * 200000 + b'"}')
        if self.path == "/basic" and login != "Basic Z3Jvd2VyOm5vdCB0b2xk":  # base64 of "grower:not told"
            return self.answer(401, b"")
        if self.path == "/bearer" and login != "Bearer s3cret-s3cret-s3cret":
            return self.answer(401, b"")
        self.answer(200, b'{"temperature_degc": 24.5, "humidity_pct": 96.5, "co2_ppm": 812, "air": {"t": "75.2F"}}')


class Server(http.server.ThreadingHTTPServer):
    daemon_threads = True

    def handle_error(self, request, client):
        pass


server = Server(("127.0.0.1", 0), Handler)
print(server.server_address[1], flush=True)
server.serve_forever()
