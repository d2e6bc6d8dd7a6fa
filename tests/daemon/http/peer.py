"""A server for the tests of daemon/http, on Python's own http.server: nothing of ours is in it.

usage: peer.py tcp | unix PATH | tls CERTIFICATE KEY
Prints its port (or "ready") once it listens, and serves until it is killed.
"""
import http.server
import socketserver
import ssl
import sys
import time


class Handler(http.server.BaseHTTPRequestHandler):
    protocol_version = "HTTP/1.1"

    def log_message(self, *args):
        pass

    def address_string(self):
        return "peer"

    def answer(self, status, body, kind="text/plain"):
        self.send_response(status)
        self.send_header("Content-Type", kind)
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)

    def echo(self):
        body = self.rfile.read(int(self.headers.get("Content-Length", 0)))
        lines = [self.command + " " + self.path]
        lines += [name.lower() + ": " + value for name, value in self.headers.items()]
        self.answer(200, "\n".join(lines).encode() + b"\n\n" + body)

    def do_GET(self):
        path = self.path.split("?")[0]
        if path == "/chunked":
            self.send_response(200)
            self.send_header("Transfer-Encoding", "chunked")
            self.end_headers()
            for piece in (b"one ", b"two ", b"three"):
                self.wfile.write(b"%x\r\n%s\r\n" % (len(piece), piece))
            self.wfile.write(b"0\r\n\r\n")
        elif path == "/slow":
            time.sleep(30)
        elif path == "/drip":  # a byte now and then: each read succeeds, the whole never comes
            self.send_response(200)
            self.send_header("Content-Length", "1000")
            self.end_headers()
            for _ in range(300):
                self.wfile.write(b".")
                self.wfile.flush()
                time.sleep(0.1)
        elif path == "/big":
            self.answer(200, b"x" * 100000)
        elif path == "/bighead":
            self.send_response(200)
            self.send_header("X-Long", "y" * 20000)
            self.end_headers()
        elif path == "/garbage":
            self.wfile.write(b"SSH-2.0-none\r\n\r\n")
            self.close_connection = True
        elif path == "/short":  # promises more than it sends
            self.wfile.write(b"HTTP/1.1 200 OK\r\nContent-Length: 50\r\n\r\nonly this")
            self.close_connection = True
        elif path == "/missing":
            self.answer(404, b'{"title":"gone"}', "application/problem+json")
        elif path == "/empty":
            self.send_response(204)
            self.end_headers()
        elif path == "/events":
            self.events()
        else:
            self.echo()

    do_PUT = do_POST = do_DELETE = echo

    def do_HEAD(self):
        self.send_response(200)
        self.send_header("Content-Length", "12345")
        self.end_headers()

    def events(self):
        """Twenty events in chunks cut without regard to lines; then it ends, or stays silent."""
        first = int(self.headers.get("Last-Event-ID", "0")) + 1
        text = b""
        for number in range(first, 21):
            text += b"event: reading\r\nid: %d\r\ndata: {\"n\":\r\ndata: %d}\r\n\r\n: alive\r\n" % (number, number)
        self.send_response(200)
        self.send_header("Content-Type", "text/event-stream; charset=utf-8")
        self.send_header("Transfer-Encoding", "chunked")
        self.end_headers()
        for start in range(0, len(text), 7):
            piece = text[start:start + 7]
            self.wfile.write(b"%x\r\n%s\r\n" % (len(piece), piece))
        self.wfile.flush()
        if self.path.endswith("?stay"):
            time.sleep(30)
        self.wfile.write(b"0\r\n\r\n")


class UnixServer(socketserver.ThreadingMixIn, socketserver.UnixStreamServer):
    daemon_threads = True

    def handle_error(self, request, client):
        pass  # listeners leave in the middle: that is what is tested


class TcpServer(http.server.ThreadingHTTPServer):
    def handle_error(self, request, client):
        pass


def main():
    if sys.argv[1] == "unix":
        server = UnixServer(sys.argv[2], Handler)
        print("ready", flush=True)
    else:
        server = TcpServer(("127.0.0.1", 0), Handler)
        if sys.argv[1] == "tls":
            context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
            context.load_cert_chain(sys.argv[2], sys.argv[3])
            server.socket = context.wrap_socket(server.socket, server_side=True)
        print(server.server_address[1], flush=True)
    server.serve_forever()


main()
