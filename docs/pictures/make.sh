#!/usr/bin/env bash
# SPDX-License-Identifier: Apache-2.0
# Makes the pictures that README.md shows, from an example: the diagram as it is written, the top of
# the engineer's report and the showroom's page as Chromium prints them on A4 and pdftoppm (Debian's
# poppler-utils) draws them.
#   docs/pictures/make.sh [PROGRAM [DESIGN]]
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/../.."
program=${1:-build/housepower} design=${2:-examples/pellibri.toml}
pictures=docs/pictures work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

"$program" diagram "$design" -o "$pictures/diagram.svg"
for reader in engineer showroom; do
  "$program" report "$design" --for "$reader" -o "$work/$reader.html"
  "${CHROMIUM:-chromium}" --headless --no-sandbox --disable-gpu --no-pdf-header-footer \
    --print-to-pdf="$work/$reader.pdf" "file://$work/$reader.html" 2>/dev/null
done
pdftoppm -png -r 72 -f 1 -l 1 -singlefile "$work/engineer.pdf" "$pictures/report"
pdftoppm -png -r 72 -f 1 -l 1 -singlefile "$work/showroom.pdf" "$pictures/showroom"
for picture in "$pictures"/*.svg "$pictures"/*.png; do
  size=$(stat -c %s "$picture")
  echo "$picture: $size bytes"
  [ "$size" -lt 150000 ] || { echo "$picture is too large for a README" >&2; exit 1; }
done
