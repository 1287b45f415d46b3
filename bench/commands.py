#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""What each command takes on the largest example, whole process, beside what an empty one takes.

  bench/commands.py [PROGRAM] [--rounds N] [--json FILE]     seconds: the least, the middle, the most
  bench/commands.py [PROGRAM] --instructions [--update]      counted by valgrind, against those kept

A count is held to the kept one within 3 %; it hangs on compiler, C library and processor, so where
one of them is another than that of the kept counts it is skipped. Last line: N passed, N failed, N
skipped.
"""
import argparse
import json
import os
import platform
import re
import resource
import shutil
import statistics
import subprocess
import sys
import tempfile
import time

here = os.path.dirname(os.path.abspath(__file__))
kept_file = os.path.join(here, "instructions.json")
most_more = 0.03
largest, smallest = "examples/quondelay.toml", "examples/two-berth.toml"

timed = {
    "check": ["check", largest],
    "check --quick, JSON": ["check", largest, "--quick", "--format", "json"],
    "check, JSON": ["check", largest, "--format", "json"],
    "stay": ["stay", largest],
    "stay --first": ["stay", largest, "--first"],
    "wiring": ["wiring", largest],
    "report": ["report", largest, "-o", "{out}"],
    "size": ["size", largest],
    "diagram": ["diagram", largest, "-o", "{out}"],
    "test-sheet": ["test-sheet", largest],
    "explain": ["explain", "drop"],
    "cable": ["cable", "--current", "15 A", "--length", "4 m", "--drop", "3 %"],
    "range --stays none": ["range", "examples", "--stays", "none"],
}
counted = {
    "start": ["--version"],
    "cable": timed["cable"],
    "check": ["check", largest],
    "check --quick": timed["check --quick, JSON"],
    "stay": ["stay", smallest, "--years", "20"],
    "wiring": timed["wiring"],
    "size": ["size", smallest],
    "range": ["range", "examples/marrowick.toml", "--stays", "none"],
}


def command_of(program, words, folder):
    return [program] + [w.replace("{out}", os.path.join(folder, "out.html")) for w in words]


def run(command, **more):
    done = subprocess.run(command, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True,
                          **more)
    if done.returncode not in (0, 1):
        sys.exit(f"{' '.join(command)}: {done.stderr}")
    return done


def seconds(command, rounds):
    wall, cpu = [], []
    for _ in range(rounds):
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        began = time.perf_counter()
        run(command)
        wall.append(time.perf_counter() - began)
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        cpu.append(after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime)
    three = lambda all: {"min": min(all), "median": statistics.median(all), "max": max(all)}
    return {"wall_s": three(wall), "processor_s": three(cpu)}


def time_all(program, rounds, file):
    rows = {}
    print(f"{'':<20} {'wall, ms':>26} {'processor, ms':>26}")
    print(f"{'':<20} {'min':>8} {'median':>8} {'max':>8} {'min':>8} {'median':>8} {'max':>8}")
    with tempfile.TemporaryDirectory() as folder:
        asked = {"nothing": [shutil.which("true")]}
        asked.update({name: command_of(program, words, folder) for name, words in timed.items()})
        for name, command in asked.items():
            rows[name] = seconds(command, rounds)
            figures = [1000 * rows[name][of][which] for of in ("wall_s", "processor_s")
                       for which in ("min", "median", "max")]
            print(f"{name:<20}" + "".join(f" {f:8.1f}" for f in figures), flush=True)
    if file:
        with open(file, "w", encoding="utf-8") as out:
            json.dump({"rounds": rounds, "commands": rows}, out, indent=1)
            out.write("\n")


def counted_on():
    """What counts hang on beside our own code."""
    compiler = subprocess.run(["g++", "-dumpfullversion"], capture_output=True, text=True)
    flags = re.search(r"^flags\s*:(.*)$", open("/proc/cpuinfo").read(), re.M)
    wide = sorted(set(flags.group(1).split()) & {"avx2", "fma", "erms", "fsrm"}) if flags else []
    valgrind = run_text(["valgrind", "--version"])
    return {"compiler": compiler.stdout.strip(), "libc": " ".join(platform.libc_ver()),
            "valgrind": valgrind, "processor": platform.machine() + " " + " ".join(wide)}


def run_text(command):
    return subprocess.run(command, capture_output=True, text=True).stdout.strip()


def instructions(program, words, folder):
    # On one core, for the number of threads; without the environment, whose size moves the stack.
    command = ["taskset", "-c", "0", "valgrind", "--tool=callgrind",
               "--callgrind-out-file=/dev/null"] + command_of(program, words, folder)
    done = run(command, env={"PATH": os.environ["PATH"], "LC_ALL": "C"})
    return int(re.search(r"Collected : (\d+)", done.stderr).group(1))


def count_all(program, update):
    if not shutil.which("valgrind") or not shutil.which("taskset"):
        print(f"no valgrind here\n0 passed, 0 failed, {len(counted)} skipped")
        return 0
    here_on = counted_on()
    kept = json.load(open(kept_file, encoding="utf-8")) if os.path.exists(kept_file) else {}
    if not update and kept.get("counted_on") != here_on:
        print(f"kept: {kept.get('counted_on')}\nhere: {here_on}")
        print(f"0 passed, 0 failed, {len(counted)} skipped")
        return 0
    now, failed = {}, 0
    with tempfile.TemporaryDirectory() as folder:
        for name, words in counted.items():
            now[name] = instructions(program, words, folder)
            before = kept.get("instructions", {}).get(name)
            more = now[name] / before - 1 if before else 0.0
            failed += more > most_more
            print(f"{name:<16} {now[name]:>14,} {100 * more:+7.2f} %", flush=True)
    if update:
        with open(kept_file, "w", encoding="utf-8") as out:
            json.dump({"counted_on": here_on, "instructions": now}, out, indent=1)
            out.write("\n")
        failed = 0
    print(f"{len(counted) - failed} passed, {failed} failed, 0 skipped")
    return failed


def main():
    os.chdir(os.path.dirname(here))
    asked = argparse.ArgumentParser(description=__doc__,
                                    formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("program", nargs="?", default="build/housepower")
    asked.add_argument("--rounds", type=int, default=7)
    asked.add_argument("--json")
    asked.add_argument("--instructions", action="store_true")
    asked.add_argument("--update", action="store_true")
    options = asked.parse_args()
    program = os.path.abspath(options.program)
    if options.instructions or options.update:
        sys.exit(count_all(program, options.update) > 0)
    time_all(program, options.rounds, options.json)


main()
