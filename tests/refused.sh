#!/usr/bin/env bash
# SPDX-License-Identifier: Apache-2.0
# Each tests/*/refused/*.cpp must not compile, and for the reason it was written for, not for a slip
# of the pen; accepted.cpp beside them must, which shows that the files would otherwise be in order.
shopt -s nullglob
cd "$(dirname "${BASH_SOURCE[0]}")/.." || exit 1
slips='fatal error:|was not declared|has not been declared|is not a member of|does not name a type|error: expected '

one() {
  local said status
  said=$(LC_ALL=C g++ -std=c++20 -fsyntax-only -Iinclude "$1" 2>&1)
  status=$?
  if [[ $1 == */accepted.cpp ]]; then
    [ $status = 0 ] || { echo "must compile: $1: $(grep -m1 'error:' <<<"$said")"; return 1; }
  elif [ $status = 0 ]; then
    echo "compiles, and must not: $1"; return 1
  elif ! grep -q 'error:' <<<"$said" || grep -qE "$slips" <<<"$said"; then
    echo "fails for another reason: $1: $(grep -m1 -E "$slips|error" <<<"$said")"; return 1
  fi
  echo "ok $1"
}
export -f one
export slips

files=(tests/*/refused/*.cpp)
results=$(printf '%s\n' "${files[@]}" | xargs -r -P"$(nproc)" -I{} bash -c 'one {}')
grep -v '^ok ' <<<"$results"
good=$(grep -c '^ok ' <<<"$results")
all=${#files[@]}
for folder in tests/*/refused; do
  [ -e "$folder/accepted.cpp" ] || { echo "no $folder/accepted.cpp"; all=$((all + 1)); }
done
echo "$good passed, $((all - good)) failed"
[ "$good" = "$all" ]
