# SPDX-License-Identifier: Apache-2.0
# Does a test notice when the engine is wrong? So many small changes are drawn from its rooms, built into
# one program and woken one at a time; the tests of its room and the hazards must fail.
#   mutation.py COUNT SEED [--room ROOM] [--again] [--quick]
# Survivors need a test, or a reason in survivors.md. What was killed once is not run again while its
# name stays the same, unless --again. --quick leaves out the hazards and every test over a second: for a
# first look. Last line: 1 passed, where nine of ten are killed, and how many failed.
import argparse
import collections
import concurrent.futures
import hashlib
import json
import os
import re
import resource
import signal
import subprocess
import sys
import threading
import time
import xml.etree.ElementTree as xml

sys.dont_write_bytecode = True
import sites  # noqa: E402
from tree import ROOMS, Tree, left_out, mutated_files, put  # noqa: E402

ROOT = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
AT = f"{ROOT}/build/mutation"
SHARE = 0.9  # of the mutants must be killed
QUICK = 1.0  # seconds; all mutants meet the tests below first, and what is left those above
LONGEST = 30.0  # seconds; a test that takes longer is not run: others stand beside it


def load(name, otherwise):
    try:
        with open(f"{AT}/{name}") as f:
            return json.load(f)
    except (OSError, ValueError):
        return otherwise


def save(name, value):
    put(f"{AT}/{name}", json.dumps(value, indent=1, ensure_ascii=False).encode())


# ---- What can be changed ----

def stamp():
    """Of all sources that mutants are looked for in."""
    sums = hashlib.sha256()
    for top in ("src", "include/housepower"):
        for room in ROOMS:
            for folder, _, files in sorted(os.walk(f"{ROOT}/{top}/{room}")):
                for file in sorted(files):
                    with open(f"{folder}/{file}", "rb") as f:
                        sums.update(file.encode() + f.read())
    with open(sites.__file__, "rb") as f:
        sums.update(f.read())
    return sums.hexdigest()


def all_mutants(tree):
    kept = load("sites.json", {})
    if kept.get("stamp") == stamp():
        return [sites.Mutant(**one) for one in kept["mutants"]]
    tree.copy({})
    tree.configure()
    with open(f"{tree.build}/compile_commands.json") as f:
        commands = [c for c in json.load(f) if any(f"housepower_{room}.dir" in c["command"] for room in ROOMS)]
    mutants = sites.find_all(tree.at, commands, ROOMS)
    save("sites.json", {"stamp": stamp(), "mutants": [vars(one) for one in mutants]})
    return mutants


def build(tree, mutants):
    """Builds them, less what does not compile; gives the list with holes."""
    refused = set(load("refused.json", []))
    mutants = [None if one.key in refused else one for one in mutants]
    for _ in range(12):
        tree.copy(mutated_files(ROOT, mutants))
        tree.configure()
        places, text = tree.make()
        if not text:
            return mutants
        gone = left_out(mutants, places)
        put(f"{AT}/build.txt", text.encode())
        if not gone:
            raise SystemExit(f"it does not build, and not for a mutant: {AT}/build.txt")
        refused |= {mutants[n].key for n in gone}
        save("refused.json", sorted(refused))
        print(f"  {len(gone)} do not compile", flush=True)
        mutants = [None if n in gone else one for n, one in enumerate(mutants)]
    raise SystemExit(f"it does not build: {AT}/build.txt")


# ---- Tests ----

def command(tree, folder, names):
    """One run of some test cases of a folder. A comma would end the name."""
    return [f"{tree.build}/tests/housepower_tests_{folder}", "--abort-after=1", "--no-colors=1",
            "--test-case=" + ",".join(name.replace(",", "?").replace("\\", "?") for name in names)]


def outcome(tree, folder, names, seconds, **environment):
    """The exit code, or "time", and the seconds of the processor that it took. What waits for ever is
    ended, too."""
    def bounds():
        resource.setrlimit(resource.RLIMIT_AS, (6 << 30, 6 << 30))
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
        resource.setrlimit(resource.RLIMIT_CPU, (int(seconds) + 1, int(seconds) + 1))
    own = {**os.environ, "RC_PARAMS": "seed=1", **environment}
    running = subprocess.Popen(command(tree, folder, names), cwd=tree.at, env=own, preexec_fn=bounds,
                               stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    patience = threading.Timer(120 + 100 * seconds, running.kill)
    patience.start()
    _, status, used = os.wait4(running.pid, 0)
    patience.cancel()
    code = running.returncode = os.waitstatus_to_exitcode(status)
    return "time" if code in (-signal.SIGXCPU, -signal.SIGKILL) else code, used.ru_utime + used.ru_stime


def cases_of(tree, folder):
    listed = subprocess.run([f"{tree.build}/tests/housepower_tests_{folder}", "--list-test-cases",
                             "--reporters=xml"], text=True, capture_output=True).stdout
    return [(one.get("name"), one.get("filename")) for one in xml.fromstring(listed).iter("TestCase")]


def try_case(tree, folder, name, number):
    """Its seconds without a mutant, and which mutants it reaches."""
    file = f"{AT}/reached-{folder}-{number}"
    if os.path.exists(file):
        os.remove(file)
    code, seconds = outcome(tree, folder, [name], LONGEST, HOUSEPOWER_MUTANTS_REACHED=file)
    reached = []
    if os.path.exists(file):
        with open(file, "rb") as f:
            reached = [n for n, byte in enumerate(f.read()) if byte]
        os.remove(file)
    return {"folder": folder, "name": name, "seconds": seconds, "code": code, "reached": reached}


def try_folder(tree, pool, folder):
    """Its test cases, known from before where the program is the same."""
    kept = load("cases.json", {})
    made = os.stat(f"{tree.build}/tests/housepower_tests_{folder}").st_mtime
    if kept.get(folder, {}).get("made") != made:
        waiting = [pool.submit(try_case, tree, folder, name, n)
                   for n, (name, _) in enumerate(cases_of(tree, folder))]
        kept[folder] = {"made": made, "cases": [one.result() for one in waiting]}
        save("cases.json", kept)
    for one in kept[folder]["cases"]:
        if one["code"] == "time":
            print(f"  takes too long, not run: {folder}: {one['name']}", flush=True)
        elif one["code"] != 0:
            raise SystemExit(f"fails without a mutant: {folder}: {one['name']} ({one['code']})")
    return [one for one in kept[folder]["cases"] if one["code"] == 0]


def batches(cases):
    """Quickest first, together as long as that is short."""
    limit, batch, total = 0.5, [], 0.0
    for one in sorted(cases, key=lambda c: c["seconds"]):
        if batch and (total + one["seconds"] > limit or one["folder"] != batch[0]["folder"]):
            yield batch
            batch, total, limit = [], 0.0, limit * 2
        batch.append(one)
        total += one["seconds"]
    if batch:
        yield batch


def try_mutant(tree, number, cases):
    """The folder and code of what kills it, or None."""
    for batch in batches(cases):
        seconds = sum(c["seconds"] for c in batch)
        code, _ = outcome(tree, batch[0]["folder"], [c["name"] for c in batch], 5 + 5 * seconds,
                          HOUSEPOWER_MUTANT=str(number))
        if code != 0:
            return f"{batch[0]['folder']}, {code}"
    return None


# ---- What became of them ----

def reasons():
    """Survivors with a written reason: lines `- KEY` of survivors.md, under the reason."""
    known = set()
    with open(f"{os.path.dirname(os.path.abspath(__file__))}/survivors.md") as f:
        for line in f:
            if line.startswith("- `"):
                known.add(line.strip()[3:-1])
    return known


def run_all(tree, pool, mutants, again, quick, results):
    """Room by room against its own quick tests; then what is left against the hazards and the rest."""
    alive = {n: one for n, one in enumerate(mutants)
             if one and (again or results.get(one.key, ["survived"])[0] != "killed")}
    reaching, met = {n: [] for n in alive}, set()

    def take(cases, its):
        for case in cases:
            for n in case["reached"]:
                if n in alive and alive[n].room in its:
                    reaching[n].append(case)

    def meet(rooms, least, most):
        left = {n: [c for c in reaching[n] if least <= c["seconds"] < most] for n, one in alive.items()
                if one.room in rooms and results.get(one.key, [""])[0] != "killed"}
        round_of(tree, pool, mutants, {n: cases for n, cases in left.items() if cases}, results)
        for n, cases in left.items():
            if cases:
                met.add(n)
            reaching[n] = [c for c in reaching[n] if c not in cases]

    if again:
        for one in alive.values():
            results.pop(one.key, None)
    rooms = [room for room in ROOMS if any(one.room == room for one in alive.values())]
    for room in rooms:
        take(try_folder(tree, pool, room), [room])
        print(f"{room}, {sum(1 for one in alive.values() if one.room == room)} to be tried", flush=True)
        meet([room], 0.0, QUICK)
    if rooms and not quick:
        take(try_folder(tree, pool, "hazards"), rooms)
        print("hazards, and what takes longer", flush=True)
    for n, one in alive.items():
        if results.get(one.key, [""])[0] != "killed":
            results[one.key] = ["survived" if n in met or reaching[n] else "not reached", ""]
    if not quick:
        meet(rooms, 0.0, LONGEST)
    save("results.json", results)


def round_of(tree, pool, mutants, left, results):
    """Each of these mutants against its test cases; what is known so far is kept."""
    waiting = {pool.submit(try_mutant, tree, n, cases): mutants[n] for n, cases in left.items()}
    print(f"{len(waiting)} mutants at {time.monotonic() - BEGAN:.0f} s", flush=True)
    for at, done in enumerate(concurrent.futures.as_completed(waiting)):
        if done.result():
            results[waiting[done].key] = ["killed", done.result()]
        if at % 50 == 49:
            save("results.json", results)
            print(f"  {at + 1} at {time.monotonic() - BEGAN:.0f} s", flush=True)
    save("results.json", results)


def tell(mutants, results):
    known = reasons()
    counts = collections.Counter()
    left = []
    for one in filter(None, mutants):
        became = results.get(one.key, ["not tried"])[0]
        word = "killed" if became == "killed" else "reason" if one.key in known else became
        for by in (one.room, one.kind, "all"):
            counts[by, word] += 1
        if word not in ("killed", "reason"):
            left.append((one, word))
    print(f"{'':12}{'killed':>8}{'reason':>8}{'survived':>10}{'not reached':>13}{'killed, %':>11}")
    for by in ROOMS + sorted({one.kind for one in filter(None, mutants)}) + ["all"]:
        row = [counts[by, word] for word in ("killed", "reason", "survived", "not reached")]
        if sum(row):
            print(f"{by:12}{row[0]:8}{row[1]:8}{row[2]:10}{row[3]:13}{100 * row[0] / sum(row):11.1f}")
    with open(f"{AT}/survivors.txt", "w") as f:
        for one, word in sorted(left, key=lambda pair: (pair[0].file, pair[0].line)):
            f.write(f"{one.file}:{one.line}: {word}\n- `{one.key}`\n")
    killed, all_ = counts["all", "killed"], sum(counts["all", w] for w in
                                                ("killed", "reason", "survived", "not reached"))
    return killed, all_, len(left)


def main():
    words = argparse.ArgumentParser()
    words.add_argument("count", type=int)
    words.add_argument("seed", type=int)
    words.add_argument("--room", choices=ROOMS)
    words.add_argument("--again", action="store_true")
    words.add_argument("--quick", action="store_true")
    words.add_argument("--jobs", type=int, default=os.cpu_count())
    asked = words.parse_args()
    os.makedirs(AT, exist_ok=True)
    tree = Tree(ROOT, AT, asked.jobs)
    everything = all_mutants(tree)
    print(f"{len(everything)} places at {time.monotonic() - BEGAN:.0f} s: "
          f"{dict(collections.Counter(one.room for one in everything))}", flush=True)
    mutants = build(tree, sites.drawn(everything, asked.count, asked.seed))
    print(f"{sum(1 for one in mutants if one)} mutants built at {time.monotonic() - BEGAN:.0f} s", flush=True)
    results = load("results.json", {})
    if asked.room:
        mutants = [one if one and one.room == asked.room else None for one in mutants]
    with concurrent.futures.ThreadPoolExecutor(asked.jobs) as pool:
        run_all(tree, pool, mutants, asked.again, asked.quick, results)
    killed, tried, left = tell(mutants, results)
    print(f"{killed} of {tried} killed at {time.monotonic() - BEGAN:.0f} s; without test or reason, "
          f"in build/mutation/survivors.txt: {left}")
    enough = killed >= SHARE * tried
    print("1 passed, 0 failed" if enough else "0 passed, 1 failed")
    return 0 if enough else 1


BEGAN = time.monotonic()
if __name__ == "__main__":
    sys.exit(main())
