#!/usr/bin/env bash
# SPDX-License-Identifier: Apache-2.0
# A range in parts by GNU parallel, then joined. Killed and begun again, it does only what is left.
#   contrib/range-parallel.sh OUT N FOLDER… [options of range]
# The program uses all cores it may, so one part at a time is done on each machine (JOBS=2: two).
# SSHLOGINFILE names a list of machines that see the same folders.
set -u
[ $# -ge 3 ] || { sed -n 4,6p "$0" >&2; exit 2; }
out=$1 parts=$2
shift 2
here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
export HOUSEPOWER=${HOUSEPOWER:-housepower}
mkdir -p "$out" || exit 4
seq 1 "$parts" |
  parallel --jobs "${JOBS:-1}" --retries 3 --joblog "$out/log" --quote \
    ${SSHLOGINFILE:+--sshloginfile "$SSHLOGINFILE" --env HOUSEPOWER --workdir "$PWD"} \
    "$here/range-part.sh" "$out" {} "$parts" "$@" || exit
exec "$HOUSEPOWER" range --join "$out"/*-of-"$parts".csv -o "$out/range.csv"
