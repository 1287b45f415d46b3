#!/usr/bin/env bash
# SPDX-License-Identifier: Apache-2.0
# Lines of each room, face and inside, against what it is meant to hold: beyond 1.2 times that, it is
# two rooms, or holds what belongs to another. Then the longest files and functions, to look at.
cd "$(dirname "${BASH_SOURCE[0]}")/.." || exit 1

# The one table: room, lines, and where it differs from the first plan, why.
budgets="
units    1100  two systems of units to show, decimal commas to read
working   400
page     3300  paper that holds what is open
reading  3000  files that designs extend are parsed once; a record's SHA-256; what else a file with mistakes tells
tables   2800
design   5000  price, label, stud, catalogue and build keys; an own format of resistance; assemblies, connectors
lists    2450  cable schedules, and the two kinds of workbook
parts    1000
energy   5250  kernels for wide registers, and stays followed no longer than is asked; habits, months, what lasts without charging; the chargers' part of a stay
wiring   10300  readings back to their cause, dead tests and switch-ons: a room by itself were it not for the network they solve
checks   7000  forty-two rules; what each pass rests on; taps, links and each battery's own device; which unsaid value moves a finding
choice   3060  cures that are tried, headroom and the joint least mend, besides the choice
pack     2000  which pack comes nearest, where none keeps the promise
range    1600
answers  4500  nineteen questions; what cable, wiring, test sheet, readings, record, build list and report ask stood in cli
diagram  2000
report   8950  sixteen kinds of answer in five forms, the first screen of each, and the schema of each
cli      4700  twenty-eight commands, each with choices, types and two examples for its help; files written whole whenever it is stopped
browser   400
"
failed=0 passed=0
printf '%-8s %6s %6s\n' room lines meant
while read -r room budget why; do
  [ -n "$room" ] || continue
  lines=$(find "include/housepower/$room" "src/$room" -name '*.[ch]pp' -exec cat {} + 2>/dev/null | wc -l)
  if [ $((lines * 5)) -gt $((budget * 6)) ]; then
    failed=$((failed + 1)) mark="too large"
  else
    passed=$((passed + 1)) mark=
  fi
  printf '%-8s %6d %6d %s\n' "$room" "$lines" "$budget" "${mark:-${why:+($why)}}"
done <<<"$budgets"
for room in $(find src -name '*.cpp' | cut -d/ -f2 | sort -u); do
  grep -q "^$room " <<<"$budgets" || { echo "$room: no size is stated"; failed=$((failed + 1)); }
done

echo "longest files:"
find include src -name '*.[ch]pp' -exec wc -l {} + | grep -v ' total$' | sort -rn | head -n "${1:-5}"
echo "longest functions:"
find src -name '*.[ch]pp' -exec awk '
  FNR == 1 || /;$/ && !open { open = first = 0 }
  !open && /^ ? ?[A-Za-z][^;]*\(.*/ && !/^ *(namespace|struct|class|enum|template|return|if|for|while|switch)/ { name = $0; first = FNR }
  /^ ? ?[A-Za-z ].*\) (const )?(noexcept )?\{$/ && !open { match($0, /^ */); indent = RLENGTH; open = 1; if (!first) first = FNR }
  open && /^ ? ?\}/ { match($0, /^ */); if (RLENGTH == indent) {
    split(name, part, "("); n = split(part[1], words, " ")
    printf "%7d %s:%d %s\n", FNR - first + 1, FILENAME, first, words[n]; open = first = 0 } }' {} + |
  sort -rn | head -n "${1:-5}"
echo "$passed passed, $failed failed"
[ $failed = 0 ]
