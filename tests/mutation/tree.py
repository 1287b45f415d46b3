# SPDX-License-Identifier: Apache-2.0
# A copy of the project with mutants in its sources, each asleep until its number is asked for, and its
# build. What the compiler does not take is left out.
import os
import re
import shutil
import subprocess

ROOMS = ["parts", "energy", "wiring", "checks", "choice"]
FOLDERS = ROOMS + ["hazards"]


def run(words, **more):
    return subprocess.run(words, text=True, capture_output=True, **more)


def put(path, text):
    """Only where it differs: what was built stays built."""
    if os.path.exists(path):
        with open(path, "rb") as f:
            if f.read() == text:
                return
    os.makedirs(os.path.dirname(path), exist_ok=True)
    with open(path, "wb") as f:
        f.write(text)


class Tree:
    def __init__(self, root, folder, jobs):
        self.root, self.at, self.build, self.jobs = root, f"{folder}/tree", f"{folder}/build", jobs

    def copy(self, mutated):
        """All files of the project; of the mutated ones the text given."""
        names = run(["git", "ls-files", "-co", "--exclude-standard"], cwd=self.root).stdout.split("\n")
        here = os.path.dirname(os.path.abspath(__file__))
        mutated = dict(mutated)
        for name, source in (("include/housepower/units/mutant.hpp", "mutant.hpp"),
                             ("src/units/mutant.cpp", "mutant.cpp.in")):
            with open(f"{here}/{source}", "rb") as f:
                mutated[name] = f.read()
        kept = set(mutated)
        for name in filter(None, names):
            if name not in mutated and os.path.isfile(f"{self.root}/{name}"):
                kept.add(name)
                with open(f"{self.root}/{name}", "rb") as f:
                    put(f"{self.at}/{name}", f.read())
                shutil.copymode(f"{self.root}/{name}", f"{self.at}/{name}")
        for name, text in mutated.items():
            put(f"{self.at}/{name}", text)
        for folder, _, files in os.walk(self.at):
            for file in files:
                if os.path.relpath(f"{folder}/{file}", self.at) not in kept:
                    os.remove(f"{folder}/{file}")

    def configure(self):
        done = run(["cmake", "-S", self.at, "-B", self.build, "-G", "Ninja", "-DCMAKE_CXX_COMPILER=g++",
                    "-DCMAKE_EXPORT_COMPILE_COMMANDS=ON", "-DCMAKE_BUILD_TYPE=Release",
                    "-DCMAKE_CXX_FLAGS_RELEASE=-O1 -DNDEBUG -D_GLIBCXX_ASSERTIONS -w"])
        if done.returncode:
            raise SystemExit(done.stderr)

    def make(self):
        """The errors' places, as (file, line), and the whole text."""
        done = run(["cmake", "--build", self.build, "-j", str(self.jobs), "--target"] +
                   [f"housepower_tests_{folder}" for folder in FOLDERS] + ["--", "-k", "0"])
        text = done.stdout + done.stderr
        if done.returncode == 0:
            return [], ""
        at = re.escape(self.at) + r"/([^\s:]+):(\d+):\d+: "
        places = {(m[1], int(m[2])) for m in re.finditer(at + r"error:", text)}
        also = {(m[1], int(m[2])) for m in re.finditer(at + r"\s+required from", text)}
        return sorted(places), text if not places | also else text


def rewritten(text, mutants):
    """A source with its mutants, as (number, Mutant), in it; line by line what it was."""
    spans = {}
    for number, one in mutants:
        spans.setdefault((one.begin, one.end), []).append((number, one))
    order = sorted(spans, key=lambda s: (s[0], -s[1]))

    def render(begin, end, inner):
        out, at, here = [], begin, 0
        while here < len(inner):
            span = inner[here]
            nested = [s for s in inner[here + 1:] if s[1] <= span[1] and s[0] >= span[0]]
            out.append(text[at:span[0]].decode())
            out.append(wrapped(render(span[0], span[1], nested), spans[span]))
            at = span[1]
            here += 1 + len(nested)
        out.append(text[at:end].decode())
        return "".join(out)

    body = render(0, len(text), order)
    return f'#include "housepower/units/mutant.hpp"\n#line 1\n{body}'.encode()


def wrapped(original, mutants):
    by = {how: [(n, m) for n, m in mutants if m.how == how] for how in ("value", "condition", "drop")}
    out = original
    if by["value"]:
        out = "(" + "".join(f"housepower_mutant({n}) ? ({m.changed}) : " for n, m in by["value"]) + f"({out}))"
    if by["condition"]:
        out = "(" + "".join(f"housepower_mutant({n}) ? {m.changed} : " for n, m in by["condition"]) + \
            f"bool({out}))"
    for n, _ in by["drop"]:
        out = f"(housepower_mutant({n}) ? void() : void({out}))"
    return out


def mutated_files(root, mutants):
    """The text of each file that has mutants; their numbers are their places in the list."""
    files = {}
    for number, one in enumerate(mutants):
        if one:
            files.setdefault(one.file, []).append((number, one))
    texts = {}
    for file, its in files.items():
        with open(f"{root}/{file}", "rb") as f:
            texts[file] = rewritten(f.read(), its)
    return texts


def left_out(mutants, places):
    """Of these mutants the ones that the compiler's errors can mean."""
    gone = set()
    for file, line in places:
        here = [(n, m) for n, m in enumerate(mutants) if m and m.file == file]
        near = [n for n, m in here if m.line == line] or \
            [n for n, m in here if 0 <= line - m.line <= 6] or [n for n, m in here]
        gone.update(near)
    return gone
