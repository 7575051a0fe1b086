#!/usr/bin/env python3
"""Type of the demo booklets, measured from the finished PDFs by other programs.

    tests/typography.py [FOLDER]

- Lines: poppler (pdftohtml -xml) tells each line's words, width and size. Lines of running text that fill
  their column hold 45 to 75 characters as the middle one of them, and no line of text holds more than 80
  (Bringhurst, "The Elements of Typographic Style", 2.1.2: 45 to 75 characters, 66 ideal, 40 to 50 in
  several columns; from memory).
- Sizes: pikepdf walks the content of every page of text and of the forms on it, and follows the matrices,
  so that letters count as large as they print. Nothing is smaller than 6 pt (common practice for print); in
  large print nothing is smaller than 18 pt (American Printing House for the Blind, guidelines for large
  print: 18 point at least; from memory). Letters within drawings are outlines and are not measured here.
- No tag of a text that was not filled in (`{{`, `{%`) is printed anywhere.

Used when this was written: poppler 22, pikepdf 10.
"""
import collections
import html
import json
import math
import pathlib
import re
import statistics
import subprocess
import sys

import pikepdf

root = pathlib.Path(sys.argv[1] if len(sys.argv) > 1 else pathlib.Path(__file__).resolve().parent.parent / "build-output")
LONGEST = 80
MIDDLE = (45, 75)
LEAST = 6.0
LARGE = 18.0
ZOOM = 3
passed = failed = 0


def judge(name, good, detail=""):
    global passed, failed
    passed, failed = passed + bool(good), failed + (not good)
    print(("ok    " if good else "WRONG ") + name + (f": {detail}" if detail and not good else ""))


def lines(pdf, last):
    """Lines of pages 1 to `last` by face and size in points: words and width in mm."""
    told = subprocess.run(
        ["pdftohtml", "-xml", "-i", "-stdout", "-zoom", str(ZOOM), "-fontfullname", "-l", str(last), str(pdf)],
        capture_output=True, text=True, check=True).stdout
    fonts, found = {}, collections.defaultdict(list)
    for line in told.splitlines():
        font = re.search(r'<fontspec id="(\d+)" size="(-?\d+)" family="([^"]+)"', line)
        if font:
            fonts[font[1]] = (font[3].split("+")[-1], int(font[2]) / ZOOM)
        text = re.match(r'<text top="(-?\d+)" left="(-?\d+)" width="(\d+)" height="\d+" font="(\d+)">(.*)</text>', line)
        if text:
            words = html.unescape(re.sub("<[^>]+>", "", text[5])).strip().replace("\u200b", "")
            found[fonts[text[4]]].append((words, int(text[3]) / ZOOM * 25.4 / 72))
    return found


def times(a, b):
    return (a[0] * b[0] + a[1] * b[2], a[0] * b[1] + a[1] * b[3],
            a[2] * b[0] + a[3] * b[2], a[2] * b[1] + a[3] * b[3])


def sizes(holder, matrix, found):
    """Sizes in points of all letters of a page or of a form on it."""
    stack, size, text = [], 0.0, (1, 0, 0, 1)
    forms = holder.get("/Resources", {}).get("/XObject", {})
    for operands, operator in pikepdf.parse_content_stream(holder):
        name = str(operator)
        if name == "q":
            stack.append(matrix)
        elif name == "Q":
            matrix = stack.pop() if stack else matrix
        elif name == "cm":
            matrix = times([float(v) for v in operands[:4]], matrix)
        elif name == "BT":
            text = (1, 0, 0, 1)
        elif name == "Tf":
            size = float(operands[1])
        elif name == "Tm":
            text = [float(v) for v in operands[:4]]
        elif name in ("Tj", "TJ"):
            total = times(text, matrix)
            found[round(size * math.hypot(total[2], total[3]), 2)] += 1
        elif name == "Do" and str(operands[0]) in forms:
            inner = forms[str(operands[0])]
            if inner.get("/Subtype") == "/Form":
                own = [float(v) for v in inner.get("/Matrix", [1, 0, 0, 1, 0, 0])][:4]
                sizes(inner, times(own, matrix), found)


def booklets(folder):
    """PDFs with instructions, and how many of their pages are text."""
    pages = json.loads((folder / "numbers.json").read_text())["pages"]
    for pdf in sorted(folder.glob("*.pdf")):
        last = len(pikepdf.open(pdf).pages)
        stem = pdf.stem[len(folder.name) + 1:]
        if stem in pages:
            if "sheet_mm" in pages[stem]:
                continue
            last = pages[stem]["pages"] - pages[stem]["plates"] * pages[stem]["sheets_across"] * pages[stem]["sheets_down"]
        elif "fitting" in stem or "stapled" in stem:
            # no running text; two pages on each sheet, turned
            continue
        elif "large-print" in stem or "ink-saving" in stem:
            plates = next(fact for key, fact in pages.items() if stem.endswith(key))
            last -= plates["plates"] * plates["sheets_across"] * plates["sheets_down"]
        yield pdf, stem, last


def judged(pdf, stem, last):
    name = pdf.name
    found = lines(pdf, last)
    serif = {key: value for key, value in found.items() if "Serif" in key[0]}
    regular = {key: value for key, value in serif.items() if "Regular" in key[0]}
    body = max(regular, key=lambda key: sum(len(words) for words, _ in regular[key]))
    widest = max(width for _, width in regular[body])
    full = [len(words) for words, width in regular[body] if width > 0.94 * widest]
    middle = statistics.median(full)
    judge(f"{name}: full lines of text hold {middle:.0f} characters, {min(full)} to {max(full)}",
          MIDDLE[0] <= middle <= MIDDLE[1] and (len(full) > 10 or "proof-sheet" in stem))
    long = [words for value in serif.values() for words, _ in value if len(words) > LONGEST]
    judge(f"{name}: no line of text over {LONGEST} characters", not long, "; ".join(long[:3]))
    file = pikepdf.open(pdf)
    counted = collections.Counter()
    for page in file.pages[:last]:
        sizes(page.obj, (1, 0, 0, 1), counted)
    wanted = LARGE if "large-print" in stem else LEAST
    judge(f"{name}: smallest type {min(counted)} pt", min(counted) >= wanted - 0.01, f"{wanted} pt wanted")
    print(f"      sizes: {', '.join(f'{size:g}' for size in sorted(counted))}")


for folder in sorted(path.parent for path in root.glob("*/numbers.json")):
    for pdf, stem, last in booklets(folder):
        judged(pdf, stem, last)
    for pdf in sorted(folder.glob("*.pdf")):
        words = subprocess.run(["pdftotext", str(pdf), "-"], capture_output=True, text=True).stdout
        judge(f"{pdf.name}: every tag is filled in", "{{" not in words and "{%" not in words)
print(f"\n{passed} passed, {failed} failed")
sys.exit(1 if failed or not passed else 0)
