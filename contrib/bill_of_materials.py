#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""What the program and the page are made of besides our own code, as CycloneDX JSON (an open standard):
name, version, licence, and for what the page bundles the checksum it was fetched with. Of the program,
each Debian package that is compiled in or linked; its licences are those that the package's own
copyright file names.

    contrib/bill_of_materials.py [PROGRAM] > bill-of-materials.json
"""
import base64
import json
import os
import re
import subprocess
import sys

HERE = os.path.join(os.path.dirname(os.path.abspath(__file__)), "..")
# Of headers alone: compiled in, so the program's links do not show them.
HEADERS = {
    "libboost-dev": "units of measure", "libtomlplusplus-dev": "reads TOML",
    "nlohmann-json3-dev": "reads and writes JSON", "libeigen3-dev": "solves the network",
    "libcli11-dev": "reads the command line",
}


def output(*command):
    done = subprocess.run(command, capture_output=True, text=True)
    return done.stdout if done.returncode == 0 else ""


def licences(package):
    """The short names that the copyright file gives, each once, in its order."""
    try:
        text = open(f"/usr/share/doc/{package}/copyright", encoding="utf-8").read()
    except OSError:
        return []
    names = re.findall(r"^License:\s*(\S.*?)\s*$", text, re.M)
    return list(dict.fromkeys(one for one in names if len(one) <= 40))  # longer: the licence itself


def component(package, role):
    version = output("dpkg-query", "-W", "-f", "${Version}", package).strip()
    if not version:
        return None
    named = licences(package)
    return {
        "type": "library", "name": package, "version": version, "description": role,
        "licenses": [{"license": {"name": one}} for one in named]
        or [{"license": {"name": f"see /usr/share/doc/{package}/copyright"}}],
        "purl": f"pkg:deb/debian/{package}@{version}",
    }


def linked(program):
    """Packages of the libraries that the program loads."""
    packages = {}
    for path in re.findall(r"=> (/\S+)", output("ldd", program)):
        for name in (path, os.path.realpath(path), path.replace("/lib/", "/usr/lib/", 1)):
            owner = output("dpkg-query", "-S", name).split(":")[0].strip()
            if owner:
                packages[owner] = "linked: " + os.path.basename(path)
                break
        else:
            sys.exit(f"{path}: no package owns it, so its licence is not known")
    return packages


def bundled():
    """What the page holds: every package of the lock file that is not only a tool of its building."""
    with open(os.path.join(HERE, "src/browser/web/package-lock.json"), encoding="utf-8") as file:
        lock = json.load(file)
    for path, one in sorted(lock["packages"].items()):
        if not path or one.get("dev"):
            continue
        name = path.rsplit("node_modules/", 1)[-1]
        if "license" not in one or "integrity" not in one:
            sys.exit(f"{name}: the lock file names no licence or no checksum")
        kind, digest = one["integrity"].split("-", 1)
        yield {
            "type": "library", "name": name, "version": one["version"],
            "description": "bundled into the page",
            "licenses": [{"license": {"id": one["license"]}}],
            "hashes": [{"alg": kind.upper().replace("SHA", "SHA-"),
                        "content": base64.b64decode(digest).hex()}],
            "purl": "pkg:npm/" + name.replace("@", "%40") + "@" + one["version"],
        }


def version():
    with open(os.path.join(HERE, "include/housepower/version.hpp"), encoding="utf-8") as file:
        return ".".join(re.findall(r"^#define HOUSEPOWER_VERSION_[A-Z]+ (\d+)$", file.read(), re.M))


def main():
    program = sys.argv[1] if len(sys.argv) > 1 else os.path.join(HERE, "build/housepower")
    native = {**{name: "compiled in: " + role for name, role in HEADERS.items()}, **linked(program)}
    parts = [component(name, role) for name, role in sorted(native.items())]
    missing = [name for name, part in zip(sorted(native), parts) if part is None]
    if missing or not os.path.exists(program):
        sys.exit("not installed, so not known: " + ", ".join(missing or [program]))
    json.dump({
        "bomFormat": "CycloneDX", "specVersion": "1.5", "version": 1,
        "metadata": {"component": {
            "type": "application", "name": "housepower", "version": version(),
            "licenses": [{"license": {"id": "Apache-2.0"}}]}},
        "components": parts + list(bundled()),
    }, sys.stdout, indent=1, ensure_ascii=False)
    print()


if __name__ == "__main__":
    main()
