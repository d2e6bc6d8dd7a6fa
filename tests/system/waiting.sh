# Sourced by the scripts of this folder, which say themselves what `fail` does.

# usage: wait_for SECONDS COMMAND...
wait_for() {
  local tries=$(($1 * 10))
  shift
  until "$@" >/dev/null 2>&1; do
    ((tries-- > 0)) || fail "waited in vain for: $*"
    sleep 0.1
  done
}
