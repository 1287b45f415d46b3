#!/usr/bin/env bash
# SPDX-License-Identifier: Apache-2.0
# make.sh FOLDER: loads.fods as CSV of two locales, as .xlsx and as .ods, by a headless spreadsheet
# program, into FOLDER.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
out=$(cd "$1" && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
for locale in en-US de-DE; do
  profile=$work/$locale
  mkdir -p "$profile/user"
  cat >"$profile/user/registrymodifications.xcu" <<XCU
<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Setup/L10N"><prop oor:name="ooSetupSystemLocale" oor:op="fuse"><value>$locale</value></prop></item>
</oor:items>
XCU
  cp "$here/loads.fods" "$work/loads-$locale.fods"
  parts=44 # comma
  [ "$locale" = de-DE ] && parts=59 # semicolon
  # delimiter, quote, UTF-8, from the first line, no formats, no language, quote as needed, as shown
  soffice "-env:UserInstallation=file://$profile" --headless --convert-to \
    "csv:Text - txt - csv (StarCalc):$parts,34,76,1,,0,false,true" --outdir "$out" \
    "$work/loads-$locale.fods" >"$work/log" 2>&1 || { cat "$work/log" >&2; exit 1; }
done
for kind in xlsx ods; do
  soffice "-env:UserInstallation=file://$work/en-US" --headless --convert-to "$kind" --outdir "$out" \
    "$here/loads.fods" >"$work/log" 2>&1 || { cat "$work/log" >&2; exit 1; }
done
