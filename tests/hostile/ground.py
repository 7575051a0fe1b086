"""The ground on which `killed.py` and `hindered.py` work: a copy of a design in an older and a newer state,
a folder for results and one for temporary files, and what stands there before and after a run.
Standard library only."""

import json
import os
import pathlib
import re
import shutil
import signal
import subprocess
import time

LIST = "written.json"
LONGEST = 240  # seconds; a run that takes longer hangs


def files(folder):
    """Every file and link below `folder`, hidden ones too, by its path: its bytes, or where it leads."""
    found = {}
    for base, _, names in os.walk(folder):
        for name in names:
            path = pathlib.Path(base, name)
            below = str(path.relative_to(folder))
            try:
                found[below] = os.readlink(path).encode() if path.is_symlink() else path.read_bytes()
            except FileNotFoundError:
                continue  # renamed or taken away while it was read
    return found


def shown(found):
    """What a reader sees: files that are not hidden, and not the list of them."""
    return {name: data for name, data in found.items() if not hidden(name) and name != LIST}


def hidden(name):
    return any(part.startswith(".") for part in name.split("/"))


def changed(text):
    """Another state of a design: one measure larger by a tenth, and its last size under another key, so that
    some files change, some come and some go."""
    lines = text.split("\n")
    blocks = {}
    block = None
    for number, line in enumerate(lines):
        if re.match(r"\w", line):
            block = line.split(":")[0]
        blocks.setdefault(block, []).append(number)
    for number in blocks.get("measures", []):
        known = re.match(r"(  [^:#]+: )(\d+(?:\.\d+)?)( mm\b.*)", lines[number])
        if known:
            lines[number] = f"{known[1]}{float(known[2]) * 1.1:g}{known[3]}"
            break
    else:
        raise SystemExit("the design has no measure in mm that could be changed")
    keys = [number for number in blocks.get("sizes", []) if re.match(r"  \w+:", lines[number])]
    if len(keys) > 1:
        lines[keys[-1]] = re.sub(r"^  (\w+):", r"  \1-b:", lines[keys[-1]])
    return "\n".join(lines)


class Run:
    """How a run ended, and what it said."""

    def __init__(self, process, said):
        self.code = process.returncode
        self.said = said.decode("utf-8", "replace")
        self.told = []
        for line in self.said.splitlines():
            try:
                self.told.append(json.loads(line))
            except ValueError:
                continue

    def fault(self):
        """The words of a fault of the machine."""
        return next((told["message"] for told in self.told if told.get("kind") == "fault"), "")

    def codes(self):
        return [told.get("code") for told in self.told if told.get("level") == "error"]

    def panicked(self):
        return "panicked" in self.said or self.code < 0 or self.code > 2

    def last(self):
        lines = [line for line in self.said.splitlines() if '"timing"' not in line]
        return lines[-1][:300] if lines else ""


class Ground:
    """A design that is built here, and nothing else."""

    def __init__(self, program, design, root):
        self.program, self.key = program, pathlib.Path(design).name
        self.root = pathlib.Path(root)
        self.designs, self.out, self.tmp = self.root / "designs", self.root / "out", self.root / "tmp"
        self.design = self.designs / self.key
        self.results = self.out / self.key
        self.designs.mkdir(parents=True)
        self.tmp.mkdir()
        shutil.copytree(design, self.design, ignore=shutil.ignore_patterns("editions"))
        shared = pathlib.Path(design).parent / "_shared"
        if shared.is_dir():
            shutil.copytree(shared, self.designs / "_shared")
        text = (self.design / "design.yaml").read_text()
        text = re.sub(r"(?m)^paper: \[.*\]$", "paper: [a4]", text)
        self.texts = {"old": text, "new": changed(text)}
        self.whole, self.hidden, self.mixed = {}, {}, 0
        self.short = False  # whether only what is quick is wanted

    def state(self, name, design=None):
        ((design or self.design) / "design.yaml").write_text(self.texts[name])

    def command(self, *words, out=None):
        words = [str(word) for word in words]
        place = ["--from", str(self.designs)]
        if words[0] in ("build", "proof", "release", "watch"):
            place += ["--out", str(out or self.out)]
        return [self.program, *words, *place, "--format", "json"]

    def environment(self):
        return dict(os.environ, TMPDIR=str(self.tmp), SOURCE_DATE_EPOCH="1790000000")

    def start(self, *words, out=None, before=(), **more):
        command = [*before, *self.command(*words, out=out)]
        return subprocess.Popen(
            command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, env=self.environment(), cwd=self.root, **more
        )

    def ended(self, process):
        try:
            said, _ = process.communicate(timeout=LONGEST)
        except subprocess.TimeoutExpired:
            process.kill()
            said, _ = process.communicate()
            said += b"\nhung"
        return Run(process, said)

    def run(self, *words, **more):
        return self.ended(self.start(*words, **more))

    def build(self, **more):
        return self.run("build", self.key, **more)

    def prepare(self):
        """Builds both states undisturbed, keeps their bytes, and leaves the results of the old one. Gives how
        long a whole build takes, in seconds."""
        took = 0.0
        for state in ("new", "old"):
            shutil.rmtree(self.out, ignore_errors=True)
            self.state(state)
            since = time.monotonic()
            run = self.build()
            took = time.monotonic() - since
            if run.code != 0:
                raise SystemExit(f"{self.key} cannot be built undisturbed: {run.last()}")
            found = files(self.out)
            self.hidden[state] = {name for name in found if name.startswith(".layouts/")}
            self.whole[state] = files(self.results)
        shutil.copytree(self.out, self.root / "first", symlinks=True)
        return took

    def again(self):
        """The results of the old state, and the design in the new one."""
        shutil.rmtree(self.out, ignore_errors=True)
        shutil.copytree(self.root / "first", self.out, symlinks=True)
        self.state("new")

    def torn(self, results=None):
        """What of the results is neither wholly old nor wholly new, file by file; and whether they are mixed
        without a word of it in the list."""
        old, new = shown(self.whole["old"]), shown(self.whole["new"])
        here = files(results or self.results)
        wrong, sides = [], set()
        for name, data in shown(here).items():
            if data not in (old.get(name), new.get(name)):
                wrong.append(f"{name} is neither the old file nor the new one ({len(data)} bytes)")
            elif old.get(name) != new.get(name):
                sides.add("old" if data == old.get(name) else "new")
        wrong += [f"{name} is gone" for name in old if name in new and name not in here]
        try:
            unfinished = json.loads(here[LIST]).get("unfinished", False) if LIST in here else False
        except ValueError:
            wrong.append(f"{LIST} cannot be read")
            unfinished = False
        return wrong, len(sides) > 1, unfinished

    def whole_again(self, state, results=None):
        """What differs from the files of an undisturbed build of this state."""
        here, there = files(results or self.results), self.whole[state]
        names = sorted(set(here) | set(there))
        return [f"{name} is not that of an undisturbed build" for name in names if here.get(name) != there.get(name)]

    def strays(self):
        """Files that nobody asked for: unfinished ones, and whatever lies in the folder for temporary files."""
        found = [f"tmp/{name}" for name in files(self.tmp)]
        for folder in (self.out, self.designs):
            for base, folders, names in os.walk(folder):
                left = [n for n in [*folders, *names] if n.startswith((".pressfoot-", ".new-", ".tmp"))]
                found += [str(pathlib.Path(base, name).relative_to(self.root)) for name in left]
        layouts = files(self.out / ".layouts")
        known = {name.split("/", 1)[1] for names in self.hidden.values() for name in names}
        found += [f"out/.layouts/{name}" for name in sorted(set(layouts) - known)] if known else []
        return sorted(set(found))


def writes(folder):
    """Whether an unfinished file lies below `folder`: somebody is writing there."""
    try:
        with os.scandir(folder) as entries:
            return any(entry.name.startswith((".pressfoot-", ".new-")) for entry in entries)
    except OSError:
        return False


def kill(process, after, sign, seen=None):
    """Sends `sign` after so many seconds: from now, or from when something is written into the folder `seen`."""
    if seen is not None:
        until = time.monotonic() + LONGEST
        while process.poll() is None and not writes(seen) and time.monotonic() < until:
            time.sleep(0.0002)
    try:
        process.wait(after)
    except subprocess.TimeoutExpired:
        process.send_signal(sign)
    return signal.Signals(sign).name
