#!/bin/bash
# The demo from outside: its folder, its book and log, and what it leaves alone.
# usage: demo_test.sh BIN_DIR CASE
set -euo pipefail
bin=$1
case_name=$2
dir=$(mktemp -d)
export HOME="$dir/home"
unset XDG_DATA_HOME XDG_CONFIG_HOME XDG_STATE_HOME TAKEHOLD_DAEMON
export XDG_RUNTIME_DIR="$dir/run"
mkdir "$HOME" "$XDG_RUNTIME_DIR"
again=""
cleanup() {
  [ -z "$again" ] || kill "$again" 2>/dev/null || true
  rm -rf "$dir"
}
trap cleanup EXIT
fail() {
  echo "FAILED: $*" >&2
  exit 1
}
. "$(dirname "${BASH_SOURCE[0]}")/waiting.sh"
value() { python3 -c 'import json,sys; print(eval(sys.argv[1], {"d": json.load(sys.stdin)}))' "$1"; }
no_child_is_left() { ! pgrep -f "$dir/demo" >/dev/null || fail "still there: $(pgrep -af "$dir/demo")"; }
home_is_untouched() {
  [ -z "$(find "$HOME" "$XDG_RUNTIME_DIR" -mindepth 1)" ] || fail "it wrote: $(find "$HOME" -mindepth 1)"
}

tells_a_season_and_leaves_a_book_and_a_log() {
  LC_ALL=C "$bin/takehold" demo --folder "$dir/demo" >"$dir/out" 2>"$dir/err" || fail "$(cat "$dir/err")"
  [ ! -s "$dir/err" ] || fail "complaints: $(cat "$dir/err")"
  ! LC_ALL=C grep -nP '[^\x20-\x7e]' "$dir/out" || fail "not plain ASCII"
  grep -qF "$dir/demo" "$dir/out" || fail "it does not name its folder"
  no_child_is_left
  home_is_untouched

  local ask=("$bin/takehold" --book "$dir/demo/book.db" --json) today=("$bin/takehold" --settings "$dir/demo/takehold.toml" --json today)
  local grafted taken lost
  grafted=$("${ask[@]}" takes | value 'sum(r["grafted"] for r in d["rows"])')
  taken=$("${ask[@]}" takes | value 'sum(r["taken"] for r in d["rows"])')
  lost=$(grep -cE '^[-] lose G|^[>] lose G' "$(dirname "$0")/../../config/demo/story.txt")
  [ "$lost" -ge 3 ] && [ "$taken" -gt 20 ] && [ "$taken" -lt "$grafted" ] || fail "$taken of $grafted took"
  [ "$("${ask[@]}" variety list | value 'len(next(v for v in d.values() if isinstance(v, list) and v))')" = 14 ] ||
    fail "there are not 14 varieties"
  "${today[@]}" | value '[t["what"] for t in d["tasks"]]' | grep -q "'stage'" || fail "today does not know G9"
  ! "${today[@]}" | value '[t["what"] for t in d["tasks"]]' | grep -q "'send'" || fail "a notice still waits"

  local log="$dir/demo/chamber.db" before
  [ "$(sqlite3 "$log" 'PRAGMA integrity_check')" = ok ] || fail "the log is damaged"
  [ "$(sqlite3 "$log" "SELECT group_concat(label) FROM (SELECT label FROM occupant ORDER BY label)")" = G1,G2,G3,G4,G5,G6,G7,G8,G9 ] ||
    fail "the daemon was not told of all batches"
  grep '"kind":"drift"' "$dir/demo/week.jsonl" | grep -q '"cause":"drying"' || fail "the dry night was not foreseen"
  [ "$(sqlite3 "$log" 'SELECT count(*) FROM warning WHERE cleared_at_ms IS NOT NULL')" -ge 1 ] || fail "no warning"
  before=$(sqlite3 "$log" 'SELECT count(*) FROM reading')
  [ "$before" -gt $((7 * 24 * 120)) ] || fail "$before readings: the live ones are not there"

  sh "$dir/demo/chamber.sh" >"$dir/again" 2>&1 &
  again=$!
  wait_for 20 "$bin/takehold" --settings "$dir/demo/takehold.toml" chamber
  "$bin/takehold" --settings "$dir/demo/takehold.toml" chamber --json |
    value '[o["label"] for o in d["occupants"]]' | grep -qF "['G9']" || fail "G9 does not stand in the chamber"
  kill "$(pgrep -f "$bin/chamberd --settings $dir/demo/chamberd.toml")"
  wait "$again" || true
  again=""
  no_child_is_left
}
refuses_a_folder_that_is_not_empty() {
  mkdir "$dir/full"
  echo mine >"$dir/full/book.db"
  local code=0
  "$bin/takehold" demo --folder "$dir/full" --json >"$dir/out" 2>/dev/null || code=$?
  [ "$code" = 1 ] || fail "ended with $code"
  [ "$(value 'd["error"]["code"]' <"$dir/out")" = folder-not-empty ] || fail "$(cat "$dir/out")"
  [ "$(ls -A "$dir/full")" = book.db ] && [ "$(cat "$dir/full/book.db")" = mine ] || fail "it touched the folder"
  code=0
  "$bin/takehold" --book "$dir/mine.db" demo >/dev/null 2>&1 || code=$?
  [ "$code" = 2 ] && [ ! -e "$dir/mine.db" ] || fail "a book of one's own was taken: $code"
}
interrupted_it_stops_its_children() {
  "$bin/takehold" demo --folder "$dir/demo" >"$dir/out" 2>"$dir/err" &
  local demo=$! code=0
  wait_for 60 test -e "$dir/demo/left.tty"
  kill -INT "$demo"
  wait "$demo" || code=$?
  [ "$code" = 1 ] || fail "ended with $code"
  grep -q interrupted "$dir/err" || fail "$(cat "$dir/err")"
  no_child_is_left
  home_is_untouched
}

"$case_name"
echo "passed: $case_name"
