"""What pressfoot is built from: every crate comes from crates.io with its checksum, under a licence that lets
anybody use, change and sell the program, and each crate that pressfoot names is explained in DEVELOPERS.md.

    python3 tests/dependencies.py

Licence expressions are read after SPDX 2.3, annex D (https://spdx.github.io/spdx-spec/v2.3/SPDX-license-expressions/):
`OR` lets one choose, `AND` asks for both, `WITH` adds an exception; `/` is the older way to write `OR`.
Only the standard library is needed, and cargo.
"""

import json
import pathlib
import re
import subprocess
import sys
import tomllib

PROJECT = pathlib.Path(__file__).resolve().parent.parent
REGISTRY = "registry+https://github.com/rust-lang/crates.io-index"
# permissive, without a duty for those who only use what pressfoot makes
ALLOWED = {
    "0BSD", "Apache-2.0", "Apache-2.0 WITH LLVM-exception", "BSD-2-Clause", "BSD-3-Clause", "BSL-1.0", "CC0-1.0",
    "ISC", "MIT", "MIT-0", "Unicode-3.0", "Unicode-DFS-2016", "Unlicense", "Zlib",
}


def permits(expression):
    """Whether what `expression` leaves to choose has a choice of allowed licences."""
    tokens = re.findall(r"\(|\)|[^\s()/]+|/", expression.replace(" WITH ", "~WITH~"))
    at = 0

    def one():
        nonlocal at
        token = tokens[at]
        at += 1
        if token == "(":
            found = either()
            at += 1
            return found
        return token.replace("~WITH~", " WITH ") in ALLOWED

    def both():
        nonlocal at
        found = one()
        while at < len(tokens) and tokens[at] == "AND":
            at += 1
            found = one() and found
        return found

    def either():
        nonlocal at
        found = both()
        while at < len(tokens) and tokens[at] in ("OR", "/"):
            at += 1
            found = both() or found
        return found

    found = either()
    assert at == len(tokens), f"{expression}: read to {at} of {tokens}"
    return found


def reads_expressions():
    """The examples of the annex, and what must not pass."""
    assert permits("MIT") and permits("MIT OR GPL-3.0-only") and permits("(MIT OR Apache-2.0) AND Unicode-3.0")
    assert permits("Unlicense/MIT") and permits("Apache-2.0 WITH LLVM-exception")
    # AND binds closer than OR
    assert permits("LGPL-2.1-only AND GPL-2.0-only OR MIT")
    for wrong in ("GPL-3.0-only", "MIT AND GPL-3.0-only", "LGPL-2.1-only OR (MIT AND GPL-2.0-only)",
                  "Apache-2.0 WITH Classpath-exception-2.0"):
        assert not permits(wrong), wrong


def main():
    reads_expressions()
    told = subprocess.run(["cargo", "metadata", "--locked", "--format-version", "1"], cwd=PROJECT, check=True,
                          stdout=subprocess.PIPE).stdout
    packages = json.loads(told)["packages"]
    others = [package for package in packages if package["name"] != "pressfoot"]
    faults = []
    for package in others:
        name = f"{package['name']} {package['version']}"
        if package["source"] != REGISTRY:
            faults.append(f"{name} comes from {package['source']}, not from crates.io")
        if not package["license"]:
            faults.append(f"{name} names no licence")
        elif not permits(package["license"]):
            faults.append(f"{name} has the licence {package['license']}")
    locked = tomllib.loads((PROJECT / "Cargo.lock").read_text())["package"]
    faults += [f"{one['name']} {one['version']} has no checksum" for one in locked
               if one["name"] != "pressfoot" and "checksum" not in one]
    own = tomllib.loads((PROJECT / "Cargo.toml").read_text())
    if own["lints"]["rust"]["unsafe_code"] != "forbid":
        faults.append("unsafe code is not forbidden")
    rows = re.findall(r"^\| ([^|]+) \| [^|]+ \|$", (PROJECT / "DEVELOPERS.md").read_text(), re.MULTILINE)
    explained = {name for row in rows for name in row.split(", ")}
    tables = [own.get("dependencies", {}), own.get("dev-dependencies", {})]
    tables += [target.get("dependencies", {}) for target in own.get("target", {}).values()]
    named = sorted({name for table in tables for name in table})
    faults += [f"DEVELOPERS.md does not say what {name} is for" for name in named if name not in explained]
    for fault in faults:
        print(fault)
    print(f"{len(others)} crates from crates.io, {len(named)} of them named: {len(faults)} faults")
    sys.exit(bool(faults))


if __name__ == "__main__":
    main()
