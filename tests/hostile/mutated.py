"""Breaks design folders in many small ways and builds each: whatever is in a folder, pressfoot answers
with a booklet or with messages that say where; it never panics, hangs or swallows the memory.

    python3 tests/hostile/mutated.py PRESSFOOT [--runs N] [--seed N] [--jobs N] [--longest S] [--keep DIR] DESIGN...

Every broken folder follows from the seed and its number, so that a finding can be made again. Standard
library only; nothing is read but the designs that are named.
"""

import argparse
import concurrent.futures
import json
import os
import pathlib
import random
import resource
import shutil
import subprocess
import sys
import tempfile
import threading

MOST = 1 << 30  # bytes of memory for one folder
HANGS = 3  # times the longest time of the processor: then it is ended
STALLS = 120  # times the longest time of the processor, by the clock: then it waits for something and is killed

# Where a formula or a length stands these may: the edges of numbers, units and grammar.
VALUES = [
    "0", "-1", "-0", "1e308", "1e-320", ".inf", ".nan", "NaN", "1e999 mm", "0 mm", "-3 mm", "1/0 in",
    "1/3 in", "9999999999 mm", "0.0000001 mm", "3 furlongs", "5", "yes", "null", "~", "[]", "{}", "''",
    '"\\u0000"', "!!binary aGk=", "*nowhere", "&a [*a]", "2026-13-45", "foot.length / 0",
    "sqrt(-1 mm)", "((((((((((1 mm))))))))))", "max()", "shoe.allowance", "a" * 5000, "𝒶𝓫 mm", "1,5 mm",
    "3 mm mm", "+", "%", "{{ 1 }}", "toe.sole edge * toe.sole edge * toe.sole edge", "1 mm ^ 1 mm",
]
TEXTS = [
    "{{ shoe.allowance }}", "{{", "}}", "{% for i in range(100000) %}x{% endfor %}", "{% if", "{% include '../../../etc/passwd' %}",
    "{% include \"/etc/passwd\" %}", "{{ 1/0 }}", "{{ figure.nothing }}", "```figure\n```", "```figure\npieces: [nothing]\n```",
    "```figure\nname: x\n{ {\n```", "> " * 500 + "deep", "- " * 300 + "deep", "*" * 3000, "[a](b" * 500, "![x](../../secret.png)",
    "![x](/etc/passwd)", "<script>alert(1)</script>", "#" * 70, "|a|b|\n|-|-|\n" + "|x|y|\n" * 400, "\u202etxet\u202c", "\u200b" * 200,
    "\x00", "\x1b[31m", "a" * 20000, "&#x110000;", "$x$ #eval(\"1\") @ref <label>", "\\" * 999, "---\n---\n---", "[^1]: [^1]\n\n[^1]",
    "> [!CAUTION]", "> [!NOTHING] x", "\ufeff", "\r\r\r", "\t\t\t- x", "| | |\n|--|", "1. " * 200, "```", "~~~typ\n#read(\"/etc/passwd\")\n~~~",
]


def lines_of(path):
    return path.read_bytes().decode("utf-8", "replace").split("\n")


def save(path, lines):
    path.write_bytes("\n".join(lines).encode("utf-8", "surrogatepass"))


def change_line(dice, path):
    """One line of a text: lost, doubled, moved, shifted, cut, or with another value."""
    lines = lines_of(path)
    at = dice.randrange(len(lines))
    other = dice.randrange(len(lines))
    kind = dice.randrange(9)
    if kind == 0:
        del lines[at]
    elif kind == 1:
        lines.insert(other, lines[at])
    elif kind == 2:
        lines[at], lines[other] = lines[other], lines[at]
    elif kind == 3:
        lines[at] = " " * dice.randrange(8) + lines[at].lstrip()
    elif kind == 4:
        lines[at] = lines[at][: dice.randrange(len(lines[at]) + 1)]
    elif kind in (5, 6) and ":" in lines[at]:
        lines[at] = lines[at].split(":")[0] + ": " + dice.choice(VALUES)
    elif kind == 7:
        words = lines[other].split()
        lines[at] += " " + (dice.choice(words) if words else "x")
    else:
        lines[at] = dice.choice(VALUES + TEXTS)
    save(path, lines)


def change_word(dice, path):
    """Two words of a text change places, or one is spelt otherwise."""
    text = path.read_bytes().decode("utf-8", "replace")
    words = sorted(set(text.split()))
    if len(words) < 2:
        return
    word, other = dice.choice(words), dice.choice(words)
    if dice.random() < 0.4:
        spelt = list(word)
        spelt.insert(dice.randrange(len(spelt) + 1), dice.choice("aeixyz-_.:'\"{}[],#&*!|>%@`\\"))
        other = "".join(spelt)
    path.write_bytes(text.replace(word, other, dice.choice([1, 1, 1, -1])).encode("utf-8", "surrogatepass"))


def change_number(dice, path):
    """A number of a text becomes larger, smaller, negative or none."""
    text = path.read_bytes().decode("utf-8", "replace")
    places = [i for i, c in enumerate(text) if c.isdigit() and (i == 0 or not (text[i - 1].isdigit() or text[i - 1] == "."))]
    if not places:
        return
    at = dice.choice(places)
    end = at
    while end < len(text) and (text[end].isdigit() or text[end] == "."):
        end += 1
    value = text[at:end]
    new = dice.choice(["0", "-" + value, value + "0", value + "000", "0." + value.replace(".", ""), "1" + value, value[::-1], "", "1e9", value + "." + value])
    path.write_bytes((text[:at] + new + text[end:]).encode())


def insert_text(dice, path):
    lines = lines_of(path)
    for _ in range(dice.choice([1, 1, 2, 5])):
        lines.insert(dice.randrange(len(lines) + 1), dice.choice(TEXTS))
    save(path, lines)


def change_bytes(dice, path):
    data = bytearray(path.read_bytes())
    for _ in range(dice.choice([1, 3, 20])):
        if not data:
            break
        at = dice.randrange(len(data))
        kind = dice.randrange(4)
        if kind == 0:
            data[at] = dice.randrange(256)
        elif kind == 1:
            del data[at : at + dice.randrange(1, 40)]
        elif kind == 2:
            data[at:at] = bytes(dice.randrange(256) for _ in range(dice.randrange(1, 8)))
        else:
            data[at] ^= 1 << dice.randrange(8)
    path.write_bytes(bytes(data))


def replace_file(dice, path):
    kind = dice.randrange(8)
    if kind == 0:
        path.unlink()
    elif kind == 1:
        path.write_bytes(b"")
    elif kind == 2:
        path.write_bytes(bytes(dice.randrange(256) for _ in range(2000)))
    elif kind == 3:
        path.write_bytes(path.read_bytes()[: dice.randrange(path.stat().st_size + 1)])
    elif kind == 4:
        path.unlink()
        path.symlink_to("/etc/hostname")
    elif kind == 5:
        path.unlink()
        path.mkdir()
    elif kind == 6:
        path.rename(path.with_name(path.name.upper()))
    else:
        path.write_bytes(path.read_bytes() * dice.choice([2, 60]))


def nest(dice, path):
    """YAML and Markdown nested deep, and aliases that multiply."""
    kind = dice.randrange(5)
    if kind == 0:
        text = "".join(" " * i + f"a{i}:\n" for i in range(dice.choice([50, 400])))
    elif kind == 1:
        text = "x: " + "[" * dice.choice([100, 5000]) + "]" * 100 + "\n"
    elif kind == 2:
        text = "a0: &a0 [x, x, x, x, x, x, x, x, x]\n" + "".join(
            f"a{i}: &a{i} [" + ", ".join([f"*a{i - 1}"] * 9) + "]\n" for i in range(1, 12)
        )
    elif kind == 3:
        text = "".join(f"measures_{i}: {i} mm\n" for i in range(3000))
    else:
        text = "<<: {" + ", ".join(f"k{i}: {i}" for i in range(500)) + "}\n"
    old = path.read_bytes()
    path.write_bytes(old + text.encode() if dice.random() < 0.7 else text.encode() + old)


def break_folder(dice, folder):
    """One to four breaks; what was done, in words."""
    done = []
    for _ in range(dice.choice([1, 1, 1, 2, 2, 4])):
        files = sorted(p for p in folder.rglob("*") if p.is_file() and not p.is_symlink())
        if not files:
            break
        texts = [p for p in files if p.suffix in (".yaml", ".md", ".svg")]
        design = [p for p in texts if p.name == "design.yaml"]
        ways = [change_line] * 6 + [change_word] * 6 + [change_number] * 6 + [insert_text] * 2 + [change_bytes, replace_file, nest]
        way = dice.choice(ways)
        if way in (change_bytes, replace_file):
            path = dice.choice(files)
        else:
            path = dice.choice(design if design and dice.random() < 0.5 else texts or files)
        if path.stat().st_size == 0 and way is not replace_file:
            continue
        done.append(f"{way.__name__} {path.relative_to(folder)}")
        way(dice, path)
    return done


def judged(output, took, memory, longest):
    """What is wrong with an answer, in words; empty if nothing is."""
    wrong = []
    if output["code"] not in (0, 1, 2):
        wrong.append(f"ended with {output['code']}")
    if "panicked" in output["err"] or "RUST_BACKTRACE" in output["err"] or "overflowed its stack" in output["err"]:
        wrong.append("panicked")
    if took > longest:
        wrong.append(f"took {took:.1f} s")
    if memory > MOST:
        wrong.append(f"took {memory >> 20} MB")
    errors = 0
    for line in (output["out"] + "\n" + output["err"]).splitlines():
        try:
            told = json.loads(line)
        except ValueError:
            continue
        if told.get("level") != "error":
            continue
        errors += 1
        if not told.get("file") and told.get("page") is None and told.get("code") not in PLACELESS:
            wrong.append(f"{told.get('code')} has no place: {told.get('message')}")
    if output["code"] == 1 and errors == 0:
        wrong.append("refused without a message")
    return wrong


# These speak of the folder itself.
PLACELESS = {"no-design", "file-missing", "outside-folder", "too-large", "too-many-files", "unreadable", "not-utf-8", "link-outside"}


# Forms of the instructions; now and then a folder is built with all that it sells.
FORMS = ["stapled", "large-print", "ink-saving", "print-shop"]
ALL_FORMS = 0.1


def run(program, folder, results, longest, form):
    """The answer for one folder, the time of the processor that it took, so that a busy machine makes no
    finding, and its memory."""
    command = [program, "proof", str(folder), "--paper", "a4", "--out", str(results), "--format", "json"]
    command += ["--form", form] if form else []
    environment = dict(os.environ, SOURCE_DATE_EPOCH="1790000000", RAYON_NUM_THREADS="1")
    with open(results / "out", "wb+") as out, open(results / "err", "wb+") as err:
        process = subprocess.Popen(command, stdout=out, stderr=err, env=environment)
        seconds = int(HANGS * longest) + 1
        if hasattr(resource, "prlimit"):
            resource.prlimit(process.pid, resource.RLIMIT_CPU, (seconds, seconds + 5))
        timer = threading.Timer(STALLS * longest, process.kill)
        timer.start()
        _, status, usage = os.wait4(process.pid, 0)
        timer.cancel()
        process.returncode = os.waitstatus_to_exitcode(status)
        texts = []
        for file in (out, err):
            file.seek(0)
            texts.append(file.read().decode("utf-8", "replace"))
    took = usage.ru_utime + usage.ru_stime
    output = {"code": process.returncode, "out": texts[0], "err": texts[1]}
    return output, took, usage.ru_maxrss * 1024


def one(number, wanted):
    dice = random.Random(f"{wanted.seed} {number}")
    design = pathlib.Path(dice.choice(wanted.designs))
    with tempfile.TemporaryDirectory(prefix="pressfoot-broken-") as place:
        folder = pathlib.Path(place) / "designs" / design.name
        shutil.copytree(design, folder)
        shared = design.parent / "_shared"
        if shared.is_dir():
            shutil.copytree(shared, folder.parent / "_shared")
        done = break_folder(dice, folder)
        results = pathlib.Path(place) / "results"
        results.mkdir()
        form = None if dice.random() < ALL_FORMS else dice.choice(FORMS)
        output, took, memory = run(wanted.program, folder, results, wanted.longest, form)
        wrong = judged(output, took, memory, wanted.longest)
        if wrong and wanted.keep:
            kept = pathlib.Path(wanted.keep) / str(number)
            shutil.rmtree(kept, ignore_errors=True)
            shutil.copytree(folder, kept / design.name, symlinks=True)
            (kept / "told").write_text(output["out"] + output["err"])
        return number, design.name, done, wrong, output["code"], took, memory


def main():
    reader = argparse.ArgumentParser(description=__doc__.split("\n\n")[0])
    reader.add_argument("program")
    reader.add_argument("designs", nargs="+", metavar="DESIGN")
    reader.add_argument("--runs", type=int, default=200)
    reader.add_argument("--first", type=int, default=0)
    reader.add_argument("--seed", default="1")
    reader.add_argument("--jobs", type=int, default=2)
    reader.add_argument("--longest", type=float, default=10.0, help="seconds of the processor for one folder; more is a hang")
    reader.add_argument("--keep")
    wanted = reader.parse_args()
    wanted.program = str(pathlib.Path(wanted.program).resolve())
    found, codes, slowest, largest = 0, {}, 0.0, 0
    numbers = range(wanted.first, wanted.first + wanted.runs)
    with concurrent.futures.ThreadPoolExecutor(wanted.jobs) as pool:
        for number, design, done, wrong, code, took, memory in pool.map(lambda n: one(n, wanted), numbers):
            codes[code] = codes.get(code, 0) + 1
            slowest, largest = max(slowest, took), max(largest, memory)
            for what in wrong:
                print(f"{number} {design}: {what}; after {', '.join(done)}", flush=True)
            found += bool(wrong)
    told = ", ".join(f"{n} ended with {code}" for code, n in sorted(codes.items()))
    print(f"{wanted.runs} broken folders: {told}; slowest {slowest:.1f} s, most memory {largest >> 20} MB; {found} findings")
    sys.exit(1 if found else 0)


if __name__ == "__main__":
    main()
