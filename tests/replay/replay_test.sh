#!/bin/bash
# Feeds a recorded table through chamberd and holds what it reports against what was expected.
# Each NAME.csv tells its origin in its head; NAME.expected was checked by hand against the table.
# usage: replay_test.sh CHAMBERD NAME
set -euo pipefail
cd "$(dirname "$0")"
diff -u "$2.expected" <("$1" --settings "$2.toml" --replay "$2.csv")
