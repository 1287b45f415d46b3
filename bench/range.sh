#!/usr/bin/env bash
# SPDX-License-Identifier: Apache-2.0
# What a range costs over designs, places, months and years, whole and in parts: the figures of
# docs/MANY.md. Seconds of processor time on one core; a scenario-year is one year of weather in which
# a row's stays are simulated.
#   bench/range.sh [PROGRAM] [FOLDER OF EXAMPLES]
set -eu
program=${1:-build/housepower} examples=${2:-examples}
at=$(mktemp -d)
trap 'rm -rf "$at"' EXIT

# once NAME YEARS ARGS…: the better of two; YEARS of weather a row, 0 where no stay is asked for.
once() {
  local name=$1 years=$2 best=
  shift 2
  for _ in 1 2; do
    local took
    took=$( { TIMEFORMAT='%U %S'; time taskset -c 0 "$program" range "$@" --format csv -o "$at/csv" \
      2>/dev/null || true; } 2>&1 | awk '{print $1 + $2}')
    best=$(echo "$took ${best:-$took}" | awk '{print ($1 < $2) ? $1 : $2}')
  done
  echo "$name $best $(($(wc -l <"$at/csv") - 1)) $years" |
    awk '{printf "%-34s %8.2f s %6d rows %8.1f ms a row", $1, $2, $3, 1000 * $2 / $3
          if ($4 > 0) printf " %8.0f s for 1e6 scenario-years", $2 / ($3 * $4) * 1e6
          print ""}'
}

some=hobart,darwin,alice-springs,munich,seville,launceston
model=$examples/marrowick.toml
once folder,no-stays 0 "$examples" --stays none
once folder,promised 0 "$examples"
once folder,all 60 "$examples" --stays all
once model,12-months,no-stays 0 "$model" --month all --stays none
once model,12-months 60 "$model" --month all --stays all
once model,6-places,12-months 60 "$model" --place $some --month all --stays all
once model,6-places,worst-month 60 "$model" --place $some --stays all
for years in 10 60 240 960; do
  once model,12-months,$years-years $years "$model" --month all --stays all --years $years
done
once model,6-places,no-stays 0 "$model" --place $some --month all --stays none

echo "whole, and in 8 parts one after another (wall clock, all cores):"
asked=("$examples" --stays none --place hobart,munich --month january,july)
TIMEFORMAT='%R s'
time "$program" range "${asked[@]}" --format csv -o "$at/whole.csv" 2>/dev/null || true
time for part in 1 2 3 4 5 6 7 8; do
  "$program" range "${asked[@]}" --part "$part/8" -o "$at/part-$part.csv" 2>/dev/null || true
done
time "$program" range --join "$at"/part-*.csv -o "$at/joined.csv" 2>/dev/null || true
cmp "$at/whole.csv" "$at/joined.csv" && echo "the same bytes"
