#!/bin/sh
# Weighs the demo recipes out through a real lixiviumd with its five plugins: starts it on a free port, asks it, and stops it again.
# Exits 0 only when every command ended as it should, the lye-heavy recipe in a danger included.
set -u
cd "$(dirname "$0")/.."

out=$(mktemp)
scaled=$(mktemp)
bin/lixiviumd --listen 127.0.0.1:0 --print-address --log-level warn >"$out" &
server=$!
trap 'kill "$server" 2>/dev/null; wait "$server" 2>/dev/null; rm -f "$out" "$scaled"' EXIT INT TERM

tries=0
until address=$(head -n 1 "$out") && [ -n "$address" ]; do
  tries=$((tries + 1))
  if [ "$tries" -gt 100 ] || ! kill -0 "$server" 2>/dev/null; then
    echo "demo: lixiviumd did not start; run bin/lixiviumd to see why" >&2
    exit 1
  fi
  sleep 0.1
done

failed=0
# ask EXPECTED-EXIT-CODE COMMAND FILE [ARGUMENT...]
ask() {
  expected=$1
  shift
  printf '\n$ lixi %s --server %s\n\n' "$*" "$address"
  bin/lixi "$@" --server "$address"
  code=$?
  if [ "$code" -ne "$expected" ]; then
    echo "demo: exit code $code, expected $expected" >&2
    failed=1
  fi
}

for recipe in kitchen-bar three-portions firm-paste stock-and-premix; do
  ask 0 formulate "testdata/recipes/$recipe.yaml"
done
ask 0 formulate testdata/recipes/harbor-morning.yaml
ask 0 plugins
ask 1 check testdata/recipes/lye-heavy-check.yaml
ask 0 weigh testdata/recipes/before-combining.yaml
ask 0 explain testdata/recipes/kitchen-bar.yaml weigh.naoh.weigh_g

# The bar once more: scaled to a real mold, rounded to real balances, priced so that a margin holds.
ask 0 scale testdata/recipes/harbor-morning.yaml
bin/lixi scale testdata/recipes/harbor-morning.yaml --recipe --server "$address" >"$scaled" || failed=1
printf '\nThe recipe at that size, as a file:\n'
ask 0 cost "$scaled" --terms testdata/recipes/harbor-morning.yaml --bars 10 --prices testdata/recipes/prices.yaml
ask 0 explain testdata/recipes/kitchen-bar.yaml cost.line.olive-oil --prices testdata/recipes/prices.yaml

exit "$failed"
