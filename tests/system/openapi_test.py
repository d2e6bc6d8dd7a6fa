"""docs/openapi.yaml held against the running chamberd. usage: openapi_test.py BIN_DIR OPENAPI"""
import json
import re
import sys

import yaml
from chamber_place import BOOK, REGIME, Place, at

document = yaml.safe_load(open(sys.argv[2]))
used = set()


def resolved(schema):
    while "$ref" in schema:
        name = schema["$ref"].rsplit("/", 1)[1]
        used.add(name)
        schema = document["components"]["schemas"][name]
    return schema


def check(value, schema, where):
    """OpenAPI 3.0's schemas, as far as the file uses them. Every key that is sent must be described, and known keys are always sent."""
    schema = resolved(schema)
    if "allOf" in schema:
        inner = resolved(schema["allOf"][0])
        if value is None and (schema.get("nullable") or inner.get("nullable")):
            return
        return check(value, inner, where)
    if value is None:
        assert schema.get("nullable"), f"{where} is null"
        return
    kind = schema.get("type")
    if kind == "object" or "properties" in schema:
        assert isinstance(value, dict), f"{where} is no object"
        described = schema.get("properties")
        if described is None:
            return
        assert set(value) <= set(described), f"{where}: not described: {set(value) - set(described)}"
        for key, inner in described.items():
            if key in value:
                check(value[key], inner, f"{where}.{key}")
            else:
                assert where.endswith("temperature") or where.endswith("humidity") or where.endswith("deficit"), f"{where}.{key} is missing"
        return
    if kind == "array":
        assert isinstance(value, list), f"{where} is no list"
        assert schema.get("minItems", 0) <= len(value) <= schema.get("maxItems", 1 << 30), f"{where}: {len(value)}"
        for i, one in enumerate(value):
            check(one, schema["items"], f"{where}[{i}]")
        return
    types = {"string": str, "number": (int, float), "integer": int, "boolean": bool}
    assert isinstance(value, types[kind]) and (kind == "boolean" or not isinstance(value, bool)), f"{where}: {value!r} is no {kind}"
    if "enum" in schema:
        assert value in schema["enum"], f"{where}: {value!r}"
    if "pattern" in schema:
        assert re.fullmatch(schema["pattern"].strip("^$"), value), f"{where}: {value!r}"
    if schema.get("format") == "date-time":
        assert re.fullmatch(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?Z", value), f"{where}: {value!r}"
    if "minimum" in schema:
        assert value >= schema["minimum"], f"{where}: {value}"
    if "maximum" in schema:
        assert value <= schema["maximum"], f"{where}: {value}"


def described(path, method, status):
    responses = document["paths"][path][method.lower()]["responses"]
    response = responses.get(str(status), responses.get("default"))
    if "$ref" in response:
        response = document["components"]["responses"][response["$ref"].rsplit("/", 1)[1]]
    return response.get("content")


def ask(place, method, path, target, status, body=None):
    answer = place.ask(method, target, body)
    assert answer.status == status, (method, target, answer.status, answer.body)
    content = described(path, method, status)
    if content is None:
        assert answer.body == b"", (method, target)
        return None
    kind = answer.headers["Content-Type"].split(";")[0]
    assert kind in content, (method, target, kind)
    if kind.endswith("json"):
        check(answer.json(), content[kind]["schema"], f"{method} {path} {status}")
    tried.add((method, path))
    return answer


tried = set()
with Place(sys.argv[1], more='[warnings]\non_delay = "1s"\n') as place:
    place.start()
    body = {"book": BOOK, "revision": 1, "pairing": "", "count": None, "entered_at": at(-3600), "left_at": None, "regime": REGIME, "events": []}
    ask(place, "PUT", "/v1/occupants/{label}", "/v1/occupants/G1", 200, body)
    ask(place, "PUT", "/v1/occupants/{label}", "/v1/occupants/G1", 409, {**body, "book": BOOK.replace("3", "4")})
    ask(place, "PUT", "/v1/occupants/{label}", "/v1/occupants/G1", 422, {**body, "count": -1})
    for seconds in range(-120, 0, 10):  # cold and dry: warnings
        ask(place, "POST", "/v1/readings", "/v1/readings", 200, {"probe": "sent", "at": at(seconds), "temperature_degc": 10, "humidity_pct": 40})
    ask(place, "POST", "/v1/readings", "/v1/readings", 404, {"probe": "nobody", "temperature_degc": 10})
    ask(place, "POST", "/v1/readings", "/v1/readings", 422, {"probe": "sent", "at": at(100), "temperature_degc": 10})
    place.wait_for(lambda: place.ask("GET", "/v1/status").json()["warnings"])
    status = ask(place, "GET", "/v1/status", "/v1/status", 200).json()
    assert status["probes"][0]["last"] and status["occupants"] and status["air"]["at"], status
    readings = ask(place, "GET", "/v1/readings", f"/v1/readings?points=7&from={at(-130)}&to={at(0)}", 200).json()
    assert any(b["temperature_degc"] for b in readings["probes"][0]["buckets"]), readings
    assert len(readings["probes"][0]["buckets"]) == 7
    ask(place, "GET", "/v1/readings", "/v1/readings?points=2001", 422)
    ask(place, "GET", "/v1/readings", "/v1/readings?probe=nobody", 404)
    ask(place, "GET", "/v1/occupants", "/v1/occupants", 200)
    ask(place, "GET", "/", "/", 200)
    ask(place, "GET", "/", "/?token=x", 303)
    warning = ask(place, "GET", "/v1/warnings", "/v1/warnings", 200).json()["warnings"][0]["id"]
    ask(place, "POST", "/v1/warnings/{id}/acknowledge", f"/v1/warnings/{warning}/acknowledge", 200)
    ask(place, "POST", "/v1/warnings/{id}/acknowledge", "/v1/warnings/W99999/acknowledge", 404)
    ask(place, "POST", "/v1/warnings/{id}/shelve", f"/v1/warnings/{warning}/shelve", 200, {"until": at(600)})
    ask(place, "POST", "/v1/warnings/{id}/shelve", f"/v1/warnings/{warning}/shelve", 422, {"until": at(-600)})
    exposure = ask(place, "GET", "/v1/exposure/{label}", "/v1/exposure/G1", 200).json()
    assert exposure["stages"][0]["temperature"]["below_h"] > 0, exposure
    ask(place, "GET", "/v1/exposure/{label}", "/v1/exposure/G9", 404)
    ask(place, "DELETE", "/v1/occupants/{label}", "/v1/occupants/G1", 204)
    tried.add(("DELETE", "/v1/occupants/{label}"))
    ask(place, "DELETE", "/v1/occupants/{label}", "/v1/occupants/G9", 404)
    tried.add(("GET", "/v1/live"))  # tests of the service listen to it

    for path, methods in document["paths"].items():
        target = path.replace("{label}", "G1").replace("{id}", warning)
        answer = place.ask("PATCH", target)
        assert answer.status == 405, (path, answer.status)
        check(answer.json(), {"$ref": "#/components/schemas/Problem"}, f"PATCH {path}")
        names = {m.upper() for m in methods if m in ("get", "post", "put", "delete")}
        assert set(answer.headers["Allow"].split(", ")) == names, (path, answer.headers["Allow"], names)
        for method in names:
            assert (method, path) in tried, f"never tried: {method} {path}"
unused = set(document["components"]["schemas"]) - used
assert unused <= {"PushedReading", "OccupantBody", "Regime", "ManualEvent", "Instant"}, unused
print("passed:", len(tried), "operations")
