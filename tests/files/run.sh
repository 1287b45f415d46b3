#!/usr/bin/env bash
# SPDX-License-Identifier: Apache-2.0
# Files that commands write, at whatever moment they are stopped: killed before each system call of a
# write, failing at each of them, on a full disk, without rights, over links, devices and folders.
# What stood there then stands as it was or is replaced whole, nothing lies beside it, and what could
# not be done is told, with exit 4. And a design starts no program and opens no connection.
#
#   tests/files/run.sh [PROGRAM]        the last line: N passed, N failed, N skipped
cd "$(dirname "${BASH_SOURCE[0]}")/../.." || exit 1
program=$(realpath "${1:-build/housepower}")
source=$PWD
at=$(mktemp -d) || exit 1
disk=
trap '[ -z "$disk" ] || umount "$disk"; rm -rf "$at"' EXIT
passed=0 failed=0 skipped=0
good() { passed=$((passed + 1)); }
bad() { failed=$((failed + 1)); echo "FAILED: $*"; }
skip() { skipped=$((skipped + 1)); echo "skipped: $*"; }
# is WHAT COMMAND…: one test.
is() { local what=$1; shift; if "$@"; then good; else bad "$what"; fi; }

cp "$source"/examples/pellibri.toml "$at/van.toml"
printf 'schema = 1\nextends = "van.toml"\n[[run]]\nname = "bank to main bar"\nconductor = "16 mm2"\n' >"$at/thin.toml"
printf '<!-- designs --><!-- /designs -->' >"$at/built.html"
cp "$source"/examples/loads-marrowick.csv "$at/loads.csv"
"$program" record new "$at/van.toml" --serial 1 --at 2026-03-14 -o "$at/kept.record" || exit 1

# What is tried: a word for each, and the command that writes $out. `record add` adds to it.
out= words="diagram handover schedule workbook mend new-record add-record page range loads"
command_of() {
  case $1 in
    diagram) echo "diagram $at/van.toml -o $out" ;;
    handover) echo "record handover $at/kept.record --format html -o $out" ;;
    schedule) echo "schedule $at/van.toml --format csv -o $out" ;;
    workbook) echo "schedule $at/van.toml --format xlsx -o $out" ;;
    mend) echo "mend $at/thin.toml -o $out" ;;
    new-record) echo "record new $at/van.toml --serial 1 --at 2026-03-14 -o $out" ;;
    add-record) echo "record add $out --note changed --at 2026-03-14" ;;
    page) echo "page $at/models --built $at/built.html -o $out" ;;
    range) echo "range $at/van.toml --stays none --format csv -o $out" ;;
    loads) echo "loads $at/loads.csv -o $out" ;;
  esac
}
mkdir "$at/models" && cp "$at/van.toml" "$at/models/"

# A folder with what stood there before; of a new record that is nothing.
folder=$at/here
fresh() {
  rm -rf "$folder"
  mkdir "$folder"
  out=$folder/out
  case $1 in
    new-record) ;;
    add-record) cp "$at/kept.record" "$out" ;;
    *) echo "what stood there" >"$out" ;;
  esac
  rm -f "$at/before"
  [ ! -e "$out" ] || cp -p "$out" "$at/before"
}
as_it_was() { if [ -e "$at/before" ]; then cmp -s "$out" "$at/before"; else [ ! -e "$out" ]; fi; }
replaced() { cmp -s "$out" "$at/whole.$1"; }
# Whatever lies beside it holds the whole text already, and only its name is missing.
nothing_half_beside() {
  local one
  for one in $(find "$folder" -mindepth 1 ! -path "$out"); do
    cmp -s "$one" "$at/whole.$1" || return 1
  done
}
nothing_beside() { [ -z "$(find "$folder" -mindepth 1 ! -path "$out")" ]; }
# told FILE: one plain line, no message of the system library's, nothing of ours.
told() { grep -q '^error: .*cannot be written: \|^error: the answer could not be written\|^error: .*spreadsheet' "$1" && ! grep -q 'internal error\|terminate\|what()' "$1"; }

for word in $words; do
  fresh "$word"
  $(printf '%s ' "$program"; command_of "$word") >"$at/said" 2>&1
  [ $? -le 1 ] || { bad "$word: $(tail -n 1 "$at/said")"; continue; }
  cp -p "$out" "$at/whole.$word"
  is "$word leaves nothing beside its file" nothing_beside
done

can_trace() { command -v strace >/dev/null && strace -o /dev/null true 2>/dev/null; }

# From the first call that makes something there to the last: what is done before changes nothing.
first_of_a_write="$folder.*(O_TMPFILE|O_CREAT)"
# CALL NUMBER of each, as strace counts them: of that name, in the thread that writes. Memory is no file.
calls_of() {
  awk -v first="$first_of_a_write" '
    { main = main == "" ? $1 : main }
    $1 == main && $2 ~ /^[a-z_0-9]+\(/ {
      name = $2; sub(/\(.*/, "", name); n[name]++
      if ($0 ~ first) begun = 1
      if (begun && name !~ /^(brk|mmap|munmap|mprotect|madvise|futex|rt_sig|getrandom|lseek)/) print name, n[name] }' "$1"
}
if can_trace; then
  for word in $words; do
    fresh "$word"
    strace -f -o "$at/calls" "$program" $(command_of "$word") >"$at/said" 2>&1
    calls_of "$at/calls" >"$at/points"
    [ -s "$at/points" ] || { bad "$word: no write is seen"; continue; }
    while read -r call which; do
      fresh "$word"
      strace -f -o /dev/null -e "trace=$call" -e "inject=$call:signal=KILL:when=$which" "$program" $(command_of "$word") \
        >"$at/said" 2>&1 </dev/null
      code=$?
      if [ $code = 137 ] && { as_it_was || replaced "$word"; } && nothing_half_beside "$word"; then good
      else bad "$word, killed before $call $which: exit $code; $(ls -la "$folder" | tail -n +4)"; fi
    done <"$at/points"
    # Each call of the write fails, as on a disk that is full, broken or not ours.
    for fault in write:ENOSPC write:EIO fsync:EIO linkat:EDQUOT linkat:EACCES rename:EACCES rename:ENOSPC openat:EMFILE; do
      call=${fault%:*}
      # Only where it lies in the write: a program that cannot be loaded says so elsewhere.
      which=$(awk -v call="$call(" -v first="$first_of_a_write" '
        index($2, call) == 1 { n++ } $0 ~ first && !begun { begun = 1; from = call == "openat(" ? n : n + 1 }
        END { if (begun && from <= n) print from }' "$at/calls")
      [ -n "$which" ] || continue
      fresh "$word"
      strace -f -o /dev/null -e "trace=$call" -e "inject=$call:error=${fault#*:}:when=$which" "$program" $(command_of "$word") >"$at/said" 2>"$at/err"
      code=$?
      if [ $code = 4 ] && as_it_was && nothing_beside && told "$at/err"; then good
      elif [ "$call" = fsync ] && [ $code -le 1 ] && replaced "$word"; then good  # the folder's, after all is done
      elif [ "$call" = linkat ] && [ $code = 4 ] && as_it_was && nothing_beside; then good
      else bad "$word, $fault at call $which: exit $code, $(head -n 1 "$at/err")"; fi
    done
  done

  # A design that names programs and addresses: nothing is started, nothing asked for.
  cat >"$at/hostile.toml" <<'TOML'
schema = 1
extends = "van.toml"
[vehicle]
name = "$(touch pwned) `touch pwned` | touch pwned; <script src=http://127.0.0.1:9/x></script>"
TOML
  printf 'schema = 1\nextends = "http://127.0.0.1:9/van.toml"\n' >"$at/far.toml"
  printf 'schema = 1\nextends = "| touch pwned"\n' >"$at/pipe.toml"
  printf 'schema = 1\nextends = "van.toml"\n[place]\nremove = ["name"]\nweather = "http://127.0.0.1:9/x.epw"\n' >"$at/weather.toml"
  printf 'schema = 1\nextends = "van.toml"\n[sizing]\ncatalogue = "$(touch pwned)"\n' >"$at/parts.toml"
  for name in hostile far pipe weather parts; do
    for word in check report diagram stay schedule size; do
      (cd "$at" && strace -f -o "$at/calls" -e trace=execve,execveat,socket,connect,fork,vfork,ptrace \
        "$program" "$word" "$name.toml" >"$at/said" 2>&1)
      is "$name.toml: $word starts nothing and asks nobody" \
        [ "$(grep -c -E '(execve|execveat|socket|connect|fork|vfork|ptrace)\(' "$at/calls")" = 1 ]
    done
  done
  is "no command in a design was run" [ ! -e "$at/pwned" ]
else
  skip "killing and failing at each system call: strace is missing, or may not trace here"
fi

# Refused: exit 4, told, and nothing changed. refused WHAT COMMAND…
refused() {
  local what=$1 code
  shift
  "$@" >"$at/said" 2>"$at/err"
  code=$?
  if [ $code = 4 ] && told "$at/err"; then good; else bad "$what: exit $code, $(head -n 2 "$at/err")"; fi
}
for word in $words; do
  [ "$word" = add-record ] && continue
  out=$at/models refused "$word onto a folder" "$program" $(out=$at/models command_of "$word")
  out=$at/none/out refused "$word into no folder" "$program" $(out=$at/none/out command_of "$word")
  out=$at/van.toml/out refused "$word below a file" "$program" $(out=$at/van.toml/out command_of "$word")
  [ -c /dev/full ] && refused "$word onto a full device" "$program" $(out=/dev/full command_of "$word")
  "$program" $(out=/dev/null command_of "$word") >"$at/said" 2>&1
  is "$word onto /dev/null" [ $? -le 1 ]
  is "/dev/null is still a device" [ -c /dev/null ]
  # A pipe that is read: what comes through is the file.
  mkfifo "$folder/pipe"
  cat "$folder/pipe" >"$at/through" &
  "$program" $(out=$folder/pipe command_of "$word") >"$at/said" 2>&1
  wait $!
  is "$word into a pipe" cmp -s "$at/through" "$at/whole.$word"
  rm "$folder/pipe"
done
if [ -c /dev/full ]; then
  "$program" check "$at/van.toml" >/dev/full 2>"$at/err"
  is "an answer that cannot be printed is told" [ $? = 4 -a -s "$at/err" ]
fi
"$program" check "$at/van.toml" >&- 2>"$at/err"
is "so is one that has no standard output" [ $? = 4 -a -s "$at/err" ]
if mknod "$at/disk" b 7 250 2>/dev/null; then
  refused "a disk is not written over" "$program" diagram "$at/van.toml" -o "$at/disk"
else
  skip "a disk as target: only the administrator makes one"
fi

# Links: what they lead to is replaced, also where nothing is there yet; a circle is told.
fresh diagram
ln -s out "$folder/link"
"$program" diagram "$at/van.toml" -o "$folder/link"
is "a link stays a link" [ -L "$folder/link" ]
is "what it leads to is written" replaced diagram
ln -s made "$folder/ahead"
"$program" diagram "$at/van.toml" -o "$folder/ahead"
is "a link to nothing yet stays a link" [ -L "$folder/ahead" -a -f "$folder/made" ]
ln -s circle "$folder/circle"
refused "a link to itself" "$program" diagram "$at/van.toml" -o "$folder/circle"
"$program" record new "$at/van.toml" --serial 1 -o "$folder/link" 2>/dev/null
is "a new record is not written over what a link leads to" replaced diagram
(cd "$folder" && "$program" diagram "$at/van.toml" -o bare && [ -s bare ])
is "a bare name is of the folder that one is in" [ $? = 0 ]
long=$folder/$(printf 'x%.0s' {1..255})
"$program" diagram "$at/van.toml" -o "$long"
is "the longest name that there is" [ -s "$long" ]
refused "a longer one" "$program" diagram "$at/van.toml" -o "${long}x"

# Rights are those of the file that is replaced, or what a new one has.
fresh diagram
chmod 640 "$out"
"$program" diagram "$at/van.toml" -o "$out"
is "rights are kept" [ "$(stat -c %a "$out")" = 640 ]
(umask 027 && "$program" diagram "$at/van.toml" -o "$folder/new")
is "a new file has those of all new files" [ "$(stat -c %a "$folder/new")" = 640 ]
# By the shell's door: what it wrote before and writes after stays around it.
{ echo before; "$program" diagram "$at/van.toml" -o /dev/stdout; echo after; } >"$folder/all"
is "what goes to standard output by name keeps what stands around it" \
  cmp -s "$folder/all" <(echo before; cat "$at/whole.diagram"; echo after)

# Without rights; who may do everything tries as somebody else.
as_other=
if [ "$(id -u)" = 0 ]; then
  as_other="setpriv --reuid=65534 --regid=65534 --clear-groups"
  $as_other true 2>/dev/null || as_other=none
fi
chmod 755 "$at"
if [ "$as_other" != none ] && $as_other "$program" --version >/dev/null 2>&1 && $as_other test -r "$at/van.toml"; then
  fresh diagram
  chmod 755 "$folder"
  refused "a folder that is not ours" $as_other "$program" diagram "$at/van.toml" -o "$folder/new"
  chmod 777 "$folder"
  chmod 444 "$out"
  [ -z "$as_other" ] || chown 65534 "$out"
  refused "a file that may not be written, in a folder that may" $as_other "$program" diagram "$at/van.toml" -o "$out"
  is "it is as it was" as_it_was
  cp "$at/kept.record" "$out"
  chmod 444 "$out"
  refused "a record that may not be written" $as_other "$program" record add "$out" --note x
  is "it is as it was" cmp -s "$out" "$at/kept.record"
else
  skip "without rights: nobody else may run the program here"
fi

# A disk that is full, for real.
mkdir "$at/small"
if mount -t tmpfs -o size=16k,mode=777 none "$at/small" 2>/dev/null; then
  disk=$at/small
  folder=$disk out=$disk/out
  for word in handover diagram page workbook; do
    echo "what stood there" >"$out"
    cp "$out" "$at/before"
    refused "$word on a full disk" "$program" $(command_of "$word")
    is "$word on a full disk changes nothing" as_it_was
    is "$word on a full disk leaves nothing" nothing_beside
  done
  rm -f "$out"
  head -c 9000 /dev/zero >"$disk/another"
  refused "a new record on a full disk" "$program" $(command_of new-record)
  is "nothing of it is there" [ "$(ls -A "$disk")" = another ]
  umount "$disk" && disk=
  folder=$at/here
else
  skip "a full disk: no small one can be mounted here"
fi

# Two who add to one record at once: each entry is kept, or its writer is told.
fresh add-record
added=0
for round in 1 2 3 4 5; do
  waiting=()
  for who in a b c; do
    "$program" record add "$out" --note "$round $who" >/dev/null 2>"$at/err.$who" &
    waiting+=($!)
  done
  for one in "${waiting[@]}"; do
    wait "$one"
    code=$?
    [ $code = 0 ] && added=$((added + 1))
    [ $code = 0 ] || [ $code = 4 ] || bad "adding at once: exit $code"
  done
done
is "no entry that was added is lost" [ "$(grep -c '^entry ' "$out")" = $((added + 1)) ]
is "the record is intact" "$program" record verify "$out" --quiet
if command -v flock >/dev/null; then
  flock "$out" sleep 8 &
  sleep 0.3
  refused "a record that another program holds on to" "$program" record add "$out" --note x
  kill $! 2>/dev/null
  wait
fi
fresh new-record
for who in 1 2 3 4; do
  "$program" record new "$at/van.toml" --serial "$who" -o "$out" 2>/dev/null && echo "$who" >>"$at/won" &
done
wait
is "of records made at once under one name, one is made" [ "$(wc -l <"$at/won")" = 1 ]
is "and it is that one's" grep -q "^| serial: $(cat "$at/won")\$" "$out"

echo "$passed passed, $failed failed, $skipped skipped"
[ $failed = 0 ]
