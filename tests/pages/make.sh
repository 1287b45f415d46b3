#!/usr/bin/env bash
# SPDX-License-Identifier: Apache-2.0
# Makes the pages that are looked at: every reader's report of the examples and of a van with hostile
# names, a report of a van that fails, and the sheets for the line.
#   make.sh PROGRAM FOLDER
program=$1 folder=$2
page() {  # NAME ARGUMENT…: a failing design exits with 1, which is its answer
  local name=$1
  shift
  "$program" "$@" >"$folder/$name.html"
  [ $? -le 1 ] || { echo "housepower $*: no page" >&2; exit 1; }
}
for design in examples/*.toml tests/pages/hostile.toml examples/faulty/drop.toml; do
  [ "$design" != examples/parts.toml ] || continue
  stem=$(basename "$design" .toml)
  for reader in engineer electrician showroom; do
    page "$stem-$reader" report "$design" --for "$reader" --date "26 November 2026"
  done
done
page test-sheet test-sheet examples/quondelay.toml --format html
for sheet in cutting labels inspection; do
  page "sheet-$sheet" build-list examples/quondelay.toml --sheet "$sheet" --format html
done
page check check examples/faulty/drop.toml --format html
