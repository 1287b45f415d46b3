#!/usr/bin/env bash
# SPDX-License-Identifier: Apache-2.0
# Every #include against the map of cmake/rooms.cmake: a room includes only itself and what stands on
# its left, and the libraries of others stay at home. One test a room.
cd "$(dirname "${BASH_SOURCE[0]}")/.." || exit 1

shopt -s nullglob globstar
awk '
  # What is no room of the library, and asks all of them.
  function outside(room) { return room == "cli" || room == "browser" }
  FILENAME == "cmake/rooms.cmake" {  # housepower_room(wiring LINKS parts THIRD_PARTY Eigen3::Eigen)
    if (!match($0, /^housepower_room\([a-z]+/)) next
    line = $0; sub(/^housepower_room\(/, "", line); sub(/\).*/, "", line)
    n = split(line, words, /[ \t]+/)
    room = words[1]; rooms[++count] = room; may[room, room] = 1; links = 0
    for (i = 2; i <= n; i++) {
      if (words[i] ~ /^[A-Z]/) { links = words[i] == "LINKS"; continue }
      if (links) for (r = 1; r <= count; r++) if ((words[i], rooms[r]) in may) may[room, rooms[r]] = 1
    }
    next
  }
  FNR == 1 {
    split(FILENAME, part, "/"); public = part[1] == "include"
    room = public ? part[3] : part[2]; if (FILENAME ~ /^include\/housepower\/[a-z]+\.hpp$/) room = part[3] == "housepower.hpp" ? "answers" : "units"
    if (!outside(room)) files[room]++
  }
  /^[ \t]*#[ \t]*include/ {
    name = $0; sub(/^[^<"]*[<"]/, "", name); sub(/[>"].*/, "", name); wrong = ""
    split(name, at, "/")
    if (at[1] == "housepower" && at[2] != "version.hpp" && !outside(room) && !((room, at[2]) in may))
      wrong = "is not on the left of " room
    else if (at[1] == "toml++" && FILENAME != "src/reading/toml.cpp") wrong = "lives in src/reading/toml.cpp"
    else if (at[1] == "CLI" && (room != "cli" || public || cli++)) wrong = "lives in one .cpp of cli"
    else if (at[1] == "Eigen" && (room != "wiring" || public || (eigen != "" && eigen != FILENAME)))
      wrong = "lives in one .cpp of wiring"
    else if (at[1] ~ /^xlsxwriter/ && FILENAME != "src/page/spreadsheet.cpp")
      wrong = "lives in src/page/spreadsheet.cpp"
    else if ((at[1] == "zip.h" && FILENAME != "src/lists/workbook.cpp") ||
             (at[1] == "pugixml.hpp" && FILENAME != "src/lists/workbook_sheets.cpp"))
      wrong = "lives in src/lists/workbook.cpp or workbook_sheets.cpp"
    else if (at[1] == "nlohmann" && (room != "page" || public)) wrong = "lives inside page"
    else if (at[1] == "fmt" && FILENAME !~ /\.cpp$/) wrong = "stays in .cpp files"
    if (at[1] == "Eigen") eigen = FILENAME
    if (wrong != "") { printf "%s:%d: <%s> %s\n", FILENAME, FNR, name, wrong; bad[room] = 1 }
  }
  END {
    rooms[++count] = "cli"; rooms[++count] = "browser"
    for (r = 1; r <= count; r++) { if (rooms[r] in bad) failed++; else passed++; known[rooms[r]] = 1 }
    for (room in files) if (!(room in known)) { print room ": not on the map"; failed++ }
    printf "%d passed, %d failed\n", passed, failed
    exit failed != 0
  }' cmake/rooms.cmake include/housepower/**/*.hpp src/**/*.cpp src/**/*.hpp
