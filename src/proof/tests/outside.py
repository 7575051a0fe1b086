#!/usr/bin/env python3
"""Compares what the proof measured with what poppler (pdfinfo, pdftocairo) reads in the same PDF.

    outside.py BOOKLET.pdf proof.json

Page count, page size (from pdfinfo, to its 0.01 pt) and every test square (from pdftocairo's SVG,
whose coordinates are rounded to 1/256 of a point and more) must agree. Needs poppler-utils; the
unit tests do not need this script.
"""

import json
import pathlib
import re
import subprocess
import sys

POINT = 25.4 / 72  # mm, ISO 32000-1, 8.3.2.3
TOLERANCE = 0.003  # mm


def run(*command):
    return subprocess.run(command, check=True, capture_output=True, text=True).stdout


def rectangles(svg):
    """Width and height in mm of every stroked upright rectangle."""
    found = []
    for tag in re.findall(r"<path[^>]*stroke-width[^>]*>", svg):
        if "stroke-dasharray" in tag:
            continue
        course = re.search(r' d="([^"]*)"', tag).group(1)
        if "C" in course:
            continue
        numbers = [float(n) for n in re.findall(r"-?\d+\.?\d*(?:e-?\d+)?", course)]
        corners = list(zip(numbers[0::2], numbers[1::2]))
        if not 4 <= len(corners) <= 6:  # closing repeats the first corner
            continue
        matrix = re.search(r"matrix\(([^)]*)\)", tag)
        a, b, c, d = 1.0, 0.0, 0.0, 1.0
        if matrix:
            a, b, c, d = [float(n) for n in re.split(r"[ ,]+", matrix.group(1).strip())][:4]
        xs = [a * x + c * y for x, y in corners]
        ys = [b * x + d * y for x, y in corners]
        found.append(((max(xs) - min(xs)) * POINT, (max(ys) - min(ys)) * POINT))
    return found


def main(pdf, report):
    measured = json.loads(pathlib.Path(report).read_text())["measured"][pathlib.Path(pdf).name]
    facts = run("pdfinfo", pdf)
    pages = int(re.search(r"Pages:\s+(\d+)", facts).group(1))
    width, height = map(float, re.search(r"Page size:\s+([\d.]+) x ([\d.]+)", facts).groups())
    print(f"{pages} pages, the first {width * POINT:.2f} by {height * POINT:.2f} mm")
    wrong = 0 if pages == measured["pages"] else 1
    for square in measured["test_squares"]:
        page = str(square["page"])
        # Without -noshrink pdftocairo fits the page to a paper of whole points: 99.88 %.
        fixed = ("-svg", "-noshrink", "-nocenter")
        drawn = rectangles(run("pdftocairo", *fixed, "-f", page, "-l", page, pdf, "-"))
        off = min(
            (max(abs(w - square["width_mm"]), abs(h - square["height_mm"])) for w, h in drawn),
            default=float("inf"),
        )
        print(f"page {page}: square of {square['side_mm']} mm, poppler differs by {off:.4f} mm")
        wrong += off > TOLERANCE
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:3]))
