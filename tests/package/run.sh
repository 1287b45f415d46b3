#!/usr/bin/env bash
# SPDX-License-Identifier: Apache-2.0
# The installed library as a stranger meets it: the examples of examples/library/ built by CMake and by
# pkg-config, and run. The release must be built. One test a line.
cd "$(dirname "${BASH_SOURCE[0]}")/../.." || exit 1
at=$PWD/build/package prefix=$PWD/build/package/prefix passed=0 failed=0
rm -rf "$at"
mkdir -p "$at"

# try WHAT EXPECTED COMMAND…: EXPECTED is what the output holds; empty: that it succeeds.
try() {
  local what=$1 expected=$2 said status
  shift 2
  said=$("$@" 2>&1)
  status=$?
  if { [ -z "$expected" ] && [ $status = 0 ]; } || { [ -n "$expected" ] && grep -qE -- "$expected" <<<"$said"; }; then
    passed=$((passed + 1))
  else
    failed=$((failed + 1))
    printf '%s: exit %d\n%s\n' "$what" $status "$said"
  fi
}
configure() { cmake -S "$1" -B "$2" -G Ninja -DCMAKE_CXX_COMPILER=g++ -DCMAKE_PREFIX_PATH="$prefix"; }
by_pkg_config() {
  local flags
  flags=$(PKG_CONFIG_PATH=$(dirname "$(find "$prefix" -name housepower.pc)") pkg-config "$@" housepower) &&
    g++ -std=c++20 examples/library/cable.cpp $flags -o "$at/cable"
}
stopped() {  # once it has begun
  local log=$at/stopped.txt pid i
  "$at/examples/stay" examples/marrowick.toml 2000 2>"$log" &
  pid=$!
  for i in {1..600}; do
    grep -q " of 2000 years" "$log" && break
    sleep 0.05
  done
  kill -INT $pid
  wait $pid
  echo "exit $?, $(tail -n 1 "$log")"
}

page=build/housepower.html stand_in=
[ -e $page ] || { echo "stands in for the page" >$page; stand_in=yes; }
try "install" "" cmake --install build --prefix "$prefix"
try "the page is installed where it was built" "" cmp $page "$prefix/share/housepower/housepower.html"
[ -z "$stand_in" ] || rm $page
try "a consumer is configured" "" configure tests/package "$at/consumer"
try "a consumer is built" "" cmake --build "$at/consumer"
try "a consumer runs" "^35 mm²$" "$at/consumer/consumer"
try "the examples are configured" "" configure examples/library "$at/examples"
try "the examples are built" "" cmake --build "$at/examples"
try "a sound design" "^safety pass, service pass$" "$at/examples/check" examples/faulty/base.toml
try "a faulty one" "^fail: drop: " "$at/examples/check" examples/faulty/drop.toml
try "no design" "cannot read the file" "$at/examples/check" examples/none.toml
try "one cable" "^drop: caution, " "$at/examples/cable"
try "a stay" "of stays last [0-9.]+ d parked" "$at/examples/stay" examples/marrowick.toml
try "a stay that is stopped" "^exit 130, stopped$" stopped
if command -v pkg-config >/dev/null; then
  try "pkg-config" "" by_pkg_config --cflags --libs
  try "one cable by pkg-config" "^drop: caution, " "$at/cable"
  try "pkg-config names the version" "^$(build/housepower --version | sed -n '1s/housepower //p')$" \
    env PKG_CONFIG_PATH="$(dirname "$(find "$prefix" -name housepower.pc)")" pkg-config --modversion housepower
fi
echo "$passed passed, $failed failed"
[ $failed = 0 ]
