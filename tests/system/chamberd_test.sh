#!/bin/bash
# chamberd from outside: real pseudo-terminals, a real socket, curl, SQLite's own shell, kill -9.
# usage: chamberd_test.sh BIN_DIR CASE
set -euo pipefail
bin=$1
case_name=$2
dir=$(mktemp -d)
children=()
cleanup() {
  for child in "${children[@]}"; do kill -9 "$child" 2>/dev/null || true; done
  rm -rf "$dir"
}
trap cleanup EXIT
fail() {
  echo "FAILED: $*" >&2
  cat "$dir"/*.err >&2 2>/dev/null || true
  exit 1
}
. "$(dirname "${BASH_SOURCE[0]}")/waiting.sh"
get() { curl -sf --max-time 5 --unix-socket "$dir/c.sock" "http://chamber$1"; }
post() { curl -s --max-time 5 -o "$dir/answer" -w '%{http_code}' --unix-socket "$dir/c.sock" -d "$2" "http://chamber$1"; }
settings() {
  cat >"$dir/s.toml" <<EOF
[log]
file = "chamber.db"
[listen]
socket = "c.sock"
[[probe]]
name = "left"
kind = "serial"
device = "$dir/left.tty"
every = "200ms"
timeout = "500ms"
text = { pattern = 'T=(?<temperature>[-0-9.]+) H=(?<humidity>[0-9.]+)' }
[[probe]]
name = "sent"
kind = "push"
EOF
}
start_probe() {
  "$bin/probe-sim" --text "$dir/left.tty" --every 100ms --seed 7 2>"$dir/probe.err" >/dev/null &
  probe=$!
  children+=("$probe")
  wait_for 10 test -e "$dir/left.tty"
}
start_daemon() {
  "$bin/chamberd" --settings "$dir/s.toml" 2>>"$dir/daemon.err" &
  daemon=$!
  children+=("$daemon")
  wait_for 20 get /v1/status
}
rows() { sqlite3 "$dir/chamber.db" "SELECT count(*) FROM reading JOIN probe ON probe.id = probe WHERE name = '$1' AND quality = 0"; }
more_than() { [ "$(rows left)" -gt "$1" ]; }

once_prints_a_reading() {
  settings
  start_probe
  "$bin/chamberd" --settings "$dir/s.toml" --once >"$dir/once"
  grep -q '"probe":"left","quality":"good"' "$dir/once" || fail "$(cat "$dir/once")"
}
unplugging_and_replugging_is_survived() {
  settings
  start_probe
  start_daemon
  wait_for 20 more_than 3
  kill -9 "$probe"
  rm -f "$dir/left.tty"
  sleep 1
  kill -0 "$daemon" || fail "chamberd ended with the probe"
  local before
  before=$(rows left)
  start_probe
  wait_for 40 more_than $((before + 3))
}
kill_9_loses_no_acknowledged_reading() {
  settings
  start_probe
  start_daemon
  local second=0 acknowledged=0
  (sleep 2; kill -9 "$daemon") &
  while true; do
    local at
    at=$(date -u -d "2026-01-01 00:00:00 UTC + $second seconds" +%Y-%m-%dT%H:%M:%SZ)
    [ "$(post /v1/readings "{\"probe\":\"sent\",\"at\":\"$at\",\"temperature_degc\":20,\"humidity_pct\":90}")" = 200 ] || break
    acknowledged=$((acknowledged + 1))
    second=$((second + 1))
  done
  [ "$acknowledged" -ge 5 ] || fail "only $acknowledged readings were acknowledged"
  [ "$(sqlite3 "$dir/chamber.db" 'PRAGMA integrity_check')" = ok ] || fail "the log is damaged"
  [ "$(rows sent)" -ge "$acknowledged" ] || fail "$(rows sent) of $acknowledged acknowledged readings are there"
  start_daemon # over the dead socket file
  local again
  again=$(post /v1/readings '{"probe":"sent","at":"2026-01-01T00:00:00Z","temperature_degc":20,"humidity_pct":90}')
  [ "$again" = 200 ] && grep -q '"accepted":0,"ignored":1' "$dir/answer" || fail "$again $(cat "$dir/answer")"
}
sigterm_ends_it_cleanly() {
  settings
  start_probe
  start_daemon
  [ "$(stat -c %a "$dir/c.sock")" = 660 ] || fail "the socket has another mode"
  local code=0
  "$bin/chamberd" --settings "$dir/s.toml" 2>"$dir/second.err" || code=$?
  [ "$code" = 1 ] || fail "a second chamberd on a live socket ended with $code"
  kill -TERM "$daemon"
  code=0
  wait "$daemon" || code=$?
  [ "$code" = 0 ] || fail "ended with $code"
  [ ! -e "$dir/c.sock" ] || fail "the socket file is still there"
}
bad_settings_name_file_and_line() {
  printf '[[probe]]\nname = "a"\nkind = "push"\nevry = "10s"\nevery = "10 parsecs"\n' >"$dir/bad.toml"
  local code=0
  "$bin/chamberd" --settings "$dir/bad.toml" --check 2>"$dir/said" || code=$?
  [ "$code" = 1 ] || fail "ended with $code"
  grep -q 'bad.toml:4: ' "$dir/said" || fail "no line for the unknown key: $(cat "$dir/said")"
  grep -q 'bad.toml:5: ' "$dir/said" || fail "no line for the duration: $(cat "$dir/said")"
}
examples_pass_the_check() {
  for example in minimal typical full; do
    "$bin/chamberd" --settings "$(dirname "$0")/../../config/examples/$example/chamberd.toml" --check >/dev/null || fail "$example"
  done
}

"$case_name"
echo "passed: $case_name"
