#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
# How many sources are compiled again when a public header is touched: of the program's, of the tests'.
# Reads what ninja knows of the last build: python3 tests/support/rebuilds.py [build] [--all]
import os
import re
import subprocess
import sys

words = [w for w in sys.argv[1:] if not w.startswith("--")]
build = words[0] if words else "build"
ninja = lambda *a: subprocess.run(["ninja", "-C", build, "-t", *a], capture_output=True, text=True).stdout

deps, own = {}, None  # object or precompiled header: what it took in
for line in ninja("deps").splitlines():
    if line and not line.startswith(" "):
        own = deps.setdefault(line.split(": #deps")[0], set())
    elif line.strip():
        own.add(os.path.normpath(os.path.join(build, line.strip())))

precompiled = {n: d for n, d in deps.items() if n.endswith(".gch") or n.endswith(".pch")}
taken = {}  # object: its precompiled header, as the build file states it
at = None
with open(os.path.join(build, "build.ninja")) as file:
    for line in file:
        made = re.match(r"build (\S+\.o): \S+ (.*)", line)
        if made:
            for header in re.findall(r"\S+\.[gp]ch", made.group(2)):
                taken[made.group(1)] = os.path.relpath(os.path.join(build, header), build)

def sources(name):
    """Of an object: one, or those of its batch."""
    if not re.search(r"/Unity/unity_\d+_cxx\.cxx\.o$", name):
        return 1
    with open(os.path.join(build, os.path.splitext(name)[0])) as file:
        return sum(line.startswith("#include") for line in file)

objects = {n: sources(n) for n in deps if n.endswith(".o") and "cmake_pch" not in n}
of_tests = lambda name: name.startswith("tests/") or name.startswith("bench/")
rows = []
for folder, _, files in os.walk("include/housepower"):
    for file in files:
        header = os.path.join(folder, file)
        takes = lambda inside: any(d.endswith("/" + header) or d == header for d in inside)
        touched = {n for n, d in precompiled.items() if takes(d)}
        again = [n for n in objects if takes(deps[n]) or taken.get(n) in touched]
        rows.append((sum(objects[n] for n in again if not of_tests(n)),
                     sum(objects[n] for n in again if of_tests(n)), header[len("include/housepower/"):]))
rows.sort(key=lambda r: (-r[0], -r[1], r[2]))
all_own = sum(c for n, c in objects.items() if not of_tests(n))
print(f"of {all_own} sources of the program and {sum(objects.values()) - all_own} of the tests:")
for row in rows if "--all" in sys.argv else rows[:12] + rows[len(rows) // 2:len(rows) // 2 + 1]:
    print("%4d %4d  %s" % row)
