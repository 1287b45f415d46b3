#!/usr/bin/env bash
# SPDX-License-Identifier: Apache-2.0
# One part of a range, unless it is there already: a part is written whole or not at all.
#   contrib/range-part.sh OUT K N FOLDER… [options of range]
# HOUSEPOWER names the program where it is not on the path.
set -u
[ $# -ge 4 ] || { sed -n 3,4p "$0" >&2; exit 2; }
out=$1 part=$2 parts=$3
shift 3
file=$out/$(printf '%06d' "$part")-of-$parts.csv
[ -e "$file" ] && exit 0
mkdir -p "$out" || exit 4
"${HOUSEPOWER:-housepower}" range "$@" --part "$part/$parts" -o "$file" 2>"$file.said"
code=$?
# 1 (a design fails) and 3 (one cannot be read) are answers: their rows are in the file.
[ -e "$file" ] && { rm -f "$file.said"; exit 0; }
cat "$file.said" >&2
exit "$code"
