# SPDX-License-Identifier: Apache-2.0
# Which lines and branches of the engine's rooms the quick tests reach, from what a build with --coverage
# left behind. A room below either share fails. Lines that are not reached and have no reason in
# unreached.md are told, in unreached.txt of the build. Last line: N passed, M failed.
#   coverage.py BUILD
# Branches are those of our own text: not those of an exception that passes, nor those that the compiler
# adds where no text of ours stands.
import collections
import json
import os
import subprocess
import sys

LEAST = {"lines": 95.0, "branches": 85.0}  # percent, of every room
ROOMS = ["units", "working", "parts", "energy", "wiring", "checks", "choice", "pack", "range", "design"]

HERE = os.path.dirname(os.path.abspath(__file__))
ROOT = os.path.dirname(os.path.dirname(HERE))


def measured(build):
    """Per file, what gcovr says of each line."""
    rooms = "|".join(ROOMS)
    told = subprocess.run(
        ["gcovr", "--root", ROOT, "--object-directory", build,
         *(f"{build}/CMakeFiles/housepower_{room}.dir" for room in ROOMS), "-j", str(os.cpu_count()),
         "--filter", f"{ROOT}/(src|include/housepower)/({rooms})/", "--exclude-throw-branches",
         "--exclude-unreachable-branches", "--json"],
        cwd=ROOT, check=True, stdout=subprocess.PIPE).stdout
    return {one["file"]: one["lines"] for one in json.loads(told)["files"]}


def room_of(file):
    parts = file.split("/")
    return parts[1] if parts[0] == "src" else parts[2]


def counted(lines):
    """Lines and branches: (reached, all) of each."""
    real = [one for one in lines if not one.get("gcovr/noncode")]
    branches = [branch for one in real for branch in one["branches"]]
    return {"lines": (sum(one["count"] > 0 for one in real), len(real)),
            "branches": (sum(branch["count"] > 0 for branch in branches), len(branches))}


def reasons():
    """The lines `- FILE | TEXT` of unreached.md, each under its reason."""
    with open(f"{HERE}/unreached.md") as f:
        return {line.strip()[3:-1] for line in f if line.startswith("- `")}


def unreached(files):
    """Each line that no test reaches, named by its text so that edits elsewhere do not touch it."""
    for file, lines in sorted(files.items()):
        with open(f"{ROOT}/{file}") as f:
            text = f.read().split("\n")
        for one in lines:
            if not one.get("gcovr/noncode") and one["count"] == 0:
                yield file, one["line_number"], text[one["line_number"] - 1].strip()


def share(reached, all_):
    return 100.0 * reached / all_ if all_ else 100.0


def judge_rooms(files):
    """One line a room; how many hold what is asked, and how many do not."""
    sums = {room: collections.defaultdict(lambda: (0, 0)) for room in ROOMS}
    for file, lines in files.items():
        room = sums[room_of(file)]
        for what, pair in counted(lines).items():
            room[what] = tuple(map(sum, zip(room[what], pair)))
    print(f"{'room':8}" + "".join(f"{what + ', %':>13}{'not reached':>13}" for what in LEAST))
    short = 0
    for room, both in sums.items():
        low = [what for what in LEAST if share(*both[what]) < LEAST[what] or not both[what][1]]
        short += bool(low)
        print(f"{room:8}" + "".join(f"{share(*both[what]):13.1f}{both[what][1] - both[what][0]:13}" for what in LEAST)
              + "".join(f"  too few {what}: {LEAST[what]:g} % are asked" for what in low))
    return len(ROOMS) - short, short


def tell_unreached(files, build):
    """What waits for a test or a reason goes to a file."""
    known, found = reasons(), set()
    at = f"{build}/unreached.txt"
    with open(at, "w") as f:
        for file, number, text in unreached(files):
            found.add(f"{file} | {text}")
            if f"{file} | {text}" not in known:
                f.write(f"{file}:{number}: {text}\n")
    with open(at) as f:
        print(f"lines without a test or a reason, in {os.path.relpath(at, ROOT)}: {len(f.readlines())}")
    for key in sorted(known - found):
        print(f"unreached.md: reached by now, or gone: {key}")


def main():
    build = os.path.abspath(sys.argv[1])
    files = measured(build)
    passed, failed = judge_rooms(files)
    tell_unreached(files, build)
    print(f"{passed} passed, {failed} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
