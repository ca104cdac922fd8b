#!/usr/bin/env bash
# Run every test on this machine: fetch what is missing, then each tier with its minutes.
# Usage: bash tests/run.sh [pytest arguments for every tier]
set -euo pipefail
cd "$(dirname "$0")/.."

get() { # command, Debian package: install it when we may
  command -v "$1" >/dev/null 2>&1 && return
  if [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null 2>&1; then
    [ -n "${updated:-}" ] || { apt-get update -qq; updated=yes; }
    # Installed for a check, not to serve: its own service is not started.
    local policy=/usr/sbin/policy-rc.d made=""
    [ -e "$policy" ] || { printf '#!/bin/sh\nexit 101\n' >"$policy"; chmod 755 "$policy"; made=yes; }
    DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends "$2" >/dev/null || true
    [ -z "$made" ] || rm -f "$policy"
  fi
  command -v "$1" >/dev/null 2>&1
}
need() { # the same, or say so and stop
  get "$1" "$2" || { echo "missing: $1 (package $2); install it and run again" >&2; exit 1; }
}
need python3 python3
need node nodejs
need npm npm
need chromium chromium
# Without a desktop's windows it starts in half the time; most tests take it where it is.
get chromium-headless-shell chromium-headless-shell || true
need qpdf qpdf
need pdftotext poppler-utils
PATH=$PATH:/usr/sbin need nginx nginx-light

[ -x .venv/bin/python ] || python3 -m venv .venv || { echo "missing: the venv module (package python3-venv)" >&2; exit 1; }
.venv/bin/python -m pip install --quiet --disable-pip-version-check -e '.[test]'
npm ci --prefix tests/js --silent --no-audit --no-fund

# Profiles and databases are written all the time and thrown away: in memory where there is
# room for them. What a killed process wrote is there as well.
scratch=""
room=$(df --output=avail -k /dev/shm 2>/dev/null | tail -n 1 || true)
if [ -w /dev/shm ] && [ "${room:-0}" -gt $((6 * 1024 * 1024)) ]; then
  scratch=$(mktemp -d /dev/shm/tests-XXXXXX)
  trap 'rm -rf "$scratch"' EXIT
fi

# A check of a real browser can lose a race on a busy machine, one of kept data must not: a few that
# failed in the browser get one second go, alone. What passes then is named at the end of the run.
few=3
stands() { # tier, pytest arguments: is all that failed a few checks that pass alone?
  local tier=$1 names
  shift
  [ "$tier" = browser ] || return 1
  names=$(.venv/bin/python - "$cache/v/cache/lastfailed" <<'PY' || true
import json, sys
print(*json.load(open(sys.argv[1])), sep="\n")
PY
  )
  [ -n "$names" ] && [ "$(wc -l <<<"$names")" -le "$few" ] || return 1
  echo "== $tier: second go =="
  .venv/bin/python -m pytest "tests/$tier" -q --last-failed --last-failed-no-failures none \
    -o cache_dir="$cache" ${scratch:+--basetemp="$scratch/$tier-again"} "$@" || return 1
  unsteady="$unsteady$names"$'\n'
}

failed=""
unsteady=""
report=""
for tier in server interop fault browser; do
  began=$SECONDS
  echo "== $tier =="
  # One worker a core; a file stays with one, so that its server and browser are shared.
  # The fault tier is a few long files: whoever is idle takes a share of another's.
  share=$([ "$tier" = fault ] && echo worksteal || echo loadfile)
  # A browser test waits for its browser about a fifth of its time: one worker more.
  workers=$([ "$tier" = browser ] && echo $(($(nproc) + 1)) || echo auto)
  cache=$PWD/.pytest_cache/$tier
  rm -rf "$cache"
  .venv/bin/python -m pytest "tests/$tier" -q -o cache_dir="$cache" -n "$workers" --dist "$share" --no-loadscope-reorder \
    ${scratch:+--basetemp="$scratch/$tier"} "$@" || stands "$tier" "$@" || failed="$failed $tier"
  took=$((SECONDS - began))
  report="$report$(printf '%-8s %3d min %02d s' "$tier" $((took / 60)) $((took % 60)))"$'\n'
done
printf '\nMinutes by tier:\n%s' "$report"
[ -z "$unsteady" ] || printf '\nUnsteady, failed once and passed alone; to be looked into:\n%s' "$unsteady"
[ -z "$failed" ] || { echo "failed:$failed" >&2; exit 1; }
