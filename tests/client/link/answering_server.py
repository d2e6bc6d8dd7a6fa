"""A server that is not ours: Python's own http.server, on a Unix socket or a TCP port.

usage: answering_server.py unix:PATH|tcp STATUS BODY
Prints its address once it listens, then one line a request: JSON of method, target, body, token.
Answers every request with STATUS and BODY.
"""
import http.server
import json
import socketserver
import sys


class Answer(http.server.BaseHTTPRequestHandler):
    protocol_version = "HTTP/1.1"

    def answer(self):
        length = int(self.headers.get("Content-Length") or 0)
        said = {"method": self.command, "target": self.path,
                "body": self.rfile.read(length).decode(),
                "token": self.headers.get("Authorization")}
        print(json.dumps(said), flush=True)
        body = sys.argv[3].encode()
        self.send_response(int(sys.argv[2]))
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)

    do_GET = do_PUT = do_DELETE = do_POST = answer

    def log_message(self, *_):
        pass

    def address_string(self):
        return "peer"


class UnixServer(socketserver.UnixStreamServer):
    pass


if sys.argv[1].startswith("unix:"):
    server = UnixServer(sys.argv[1][5:], Answer)
    print(sys.argv[1], flush=True)
else:
    server = http.server.HTTPServer(("127.0.0.1", 0), Answer)
    print("http://127.0.0.1:%d" % server.server_address[1], flush=True)
server.serve_forever()
