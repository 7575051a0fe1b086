#!/usr/bin/env python3
"""No figure in a booklet is typed by hand that is computed: after a change of the foot none is stale.

    tests/stale_figures.py PRESSFOOT [DESIGN]

Builds a demo (harvest-bar-shoe) as it is, and again with every foot 3 mm longer and its girths 3 mm
larger; then reads the text of the second booklet with poppler (pdftotext) and looks at every length
in it, millimetres, centimetres and inches. Each must be what numbers.json of the second build
prints, or a length of the house's own words on test squares, paper and measuring: one that stands in
both booklets and is no number of the first, or stands in another design's booklet too. The printed forms are made here anew from
the numbers, by the rules of designs/README.md: metric to a tenth, centimetres from 10 cm on, inches as
vulgar fractions of 2, 4, 8, 16, 32 or 64.

Used when this was written: poppler 22.
"""
import json
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile

root = pathlib.Path(__file__).resolve().parent.parent
program = sys.argv[1]
name = sys.argv[2] if len(sys.argv) > 2 else "harvest-bar-shoe"
MORE = 3.0
LENGTH = re.compile(r"(?<![\w.⁄/])(?:(\d+) )?(\d+)⁄(\d+)\s(in|yd)\b|(?<![\w.⁄/])(\d+(?:\.\d+)?)\s?(mm|cm|in|yd|m)\b")


def longer(folder):
    """Every foot of the design 3 mm longer and thicker, in its file."""
    for path in (folder / "feet").glob("*.yaml"):
        text = path.read_text()
        toe = float(re.search(r"toe: \[0, (-[\d.]+)\]", text).group(1))
        k = (toe - MORE) / toe
        pair = lambda m: f"[{float(m.group(1)) * k:.2f}, {float(m.group(2)) * k:.2f}]"
        text = re.sub(r"\[(-?[\d.]+), (-?[\d.]+)\]", pair, text)
        size = lambda m: f"{m.group(1)}{float(m.group(2)) * k:.2f} mm"
        text = re.sub(r"^(  [a-z -]+: )([\d.]+) mm", size, text, flags=re.M)
        path.write_text(text)


def numbers(value):
    if isinstance(value, bool) or value is None:
        return
    if isinstance(value, (int, float)):
        yield float(value)
    elif isinstance(value, str):
        return
    else:
        for below in value.values() if isinstance(value, dict) else value:
            yield from numbers(below)


def texts(value):
    if isinstance(value, str):
        yield value
    elif isinstance(value, (list, dict)):
        for below in value.values() if isinstance(value, dict) else value:
            yield from texts(below)


def lengths(text):
    text = text.replace("\u202f", " ").replace("\u2009", " ").replace("\u00a0", " ")
    for whole, top, bottom, unit, figure, metric in LENGTH.findall(text):
        if unit:
            yield (int(whole or 0) + int(top) / int(bottom), unit)
        else:
            yield (float(figure), metric)


def printed(mm):
    """Every length that `mm` may be printed as."""
    half = 1e-9
    yield (round(int(mm * 10 + 0.5 + half) / 10, 1), "mm")
    yield (round(int(mm + 0.5 + half) / 10, 1), "cm")
    for bottom in (2, 4, 8, 16, 32, 64):
        yield (round(mm / 25.4 * bottom) / bottom, "in")


def build(design, out, name=name):
    done = subprocess.run([program, "build", str(design), "--paper", "a4", "--out", str(out), "--quiet"], stderr=subprocess.DEVNULL)
    if done.returncode:
        sys.exit("the build failed")
    folder = out / name
    pdf = folder / f"{name}-a4.pdf"
    text = subprocess.run(["pdftotext", "-raw", str(pdf), "-"], capture_output=True, text=True).stdout
    return text, json.loads((folder / "numbers.json").read_text())


with tempfile.TemporaryDirectory() as place:
    place = pathlib.Path(place)
    shutil.copytree(root / "designs" / name, place / "one" / name)
    if (root / "designs/_shared").is_dir():
        shutil.copytree(root / "designs/_shared", place / "one/_shared")
    shutil.copytree(place / "one", place / "two")
    longer(place / "two" / name)
    other, _ = build(root / "designs/seed-pouch", place / "out3", "seed-pouch")
    before, old = build(place / "one" / name, place / "out1")
    after, new = build(place / "two" / name, place / "out2")

allowed = {(round(value, 4), unit) for mm in numbers(new) for value, unit in printed(mm)}
allowed |= {(round(v, 4), u) for text in texts(new) for v, u in lengths(text)}
house = {(round(v, 4), u) for v, u in lengths(other)}
# sides of the A sizes (ISO 216, mm), which a sheet of a copy shop is told by, to the nearest inch
house |= {(round(side / 25.4), "in") for side in (210, 297, 420, 594, 841, 1189)}
fixed = {(round(v, 4), u) for v, u in lengths(before)} & {(round(v, 4), u) for v, u in lengths(after)}
stale = []
for value, unit in lengths(after):
    key = (round(value, 4), unit)
    if key in allowed:
        continue
    # what stands in both and is no number of the old build either is a fixed length
    was = {(round(v, 4), u) for mm in numbers(old) for v, u in printed(mm)}
    if key in fixed and (key not in was or key in house):
        continue
    stale.append(f"{value:g} {unit}")
changed = {k for k in lengths(before)} - {k for k in lengths(after)}
print(f"{name}: {len(list(lengths(after)))} lengths in the text, {len(changed)} of them new after the change")
if len(changed) < 20:
    sys.exit("too few lengths changed: the change did not reach the booklet")
if stale:
    sys.exit("stale: " + ", ".join(sorted(set(stale))))
