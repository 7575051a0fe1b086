#!/usr/bin/env python3
"""Outside judges of the cut files in build-output: ezdxf and svgpathtools, both PyPI, against numbers.json.

    tests/cut_judges.py [FOLDER]

- Each DXF is read by `ezdxf`: no error of its audit, millimetres, one block a piece and size, put in once.
  Perimeter, area and box of every boundary (layer 1) agree with the cut line of numbers.json within 0.01 mm
  and 0.01 mm a millimetre of perimeter; every vertex lies on the cut line, to 0.01 mm; the seam line
  (layer 14) is there where an edge has an allowance; notches (layer 4) lie on the boundary.
- Each SVG of a piece is read by `svgpathtools`: length and area of the outline likewise; a piece on the fold has
  twice its area, and its perimeter but for the fold twice. One unit is one millimetre.
- Each SVG of a layout: every whole outline has the area of its piece in one of the sizes, and lies on the cloth.
- No two lines of an SVG lie on each other: no stretch of one is within 0.005 mm of another of the same file for more
  than 0.2 mm.

Designs of the demos have no `cutting:` of their own: slits leave the outline as it is.
Used when this was written: ezdxf 1.4, svgpathtools 1.7.
"""
import json
import math
import pathlib
import sys
import xml.etree.ElementTree as xml

import ezdxf
import svgpathtools

NEAR = 0.01
SVG = "{http://www.w3.org/2000/svg}"
root = pathlib.Path(sys.argv[1]) if len(sys.argv) > 1 else pathlib.Path(__file__).resolve().parent.parent / "build-output"
passed = failed = 0


def judge(name, good, detail=""):
    global passed, failed
    passed, failed = passed + bool(good), failed + (not good)
    if not good:
        print(f"WRONG {name}: {detail}")


def samples(segment, count):
    return [segment.point(i / count) for i in range(count + 1)]


def flat(path, step=0.05):
    """Points along a path, so near to each other that chords tell lengths and areas."""
    points = []
    for segment in path:
        length = segment.length()
        if length == 0:
            continue
        count = 1 if isinstance(segment, svgpathtools.Line) else max(8, math.ceil(length / step))
        points += samples(segment, count)[:-1]
    return points


def ring_area(points):
    turned = zip(points, points[1:] + points[:1])
    return abs(sum((a.conjugate() * b).imag for a, b in turned)) / 2


def box(points):
    xs, ys = [p.real for p in points], [p.imag for p in points]
    return min(xs), min(ys), max(xs), max(ys)


def off_segment(p, a, b):
    if a == b:
        return abs(p - a)
    t = ((p - a) * (b - a).conjugate()).real / abs(b - a) ** 2
    return abs(p - (a + (b - a) * min(1, max(0, t))))


class Line:
    """A line as a ring of short chords, and what is asked of it; a grid finds the chords near a point."""

    def __init__(self, points):
        self.points, self.cells = points, {}
        for a, b in zip(points, points[1:] + points[:1]):
            steps = max(1, math.ceil(abs(b - a)))
            for i in range(steps + 1):
                p = a + (b - a) * i / steps
                self.cells.setdefault((math.floor(p.real), math.floor(p.imag)), set()).add((a, b))

    def off(self, p):
        x, y = math.floor(p.real), math.floor(p.imag)
        near = set().union(*(self.cells.get((x + i, y + j), set()) for i in (-1, 0, 1) for j in (-1, 0, 1)))
        return min((off_segment(p, a, b) for a, b in near), default=math.inf)


def name_of(key):
    return "".join(c if c.isascii() and (c.isalnum() or c == "-") else "-" for c in key)


def dxf(path, numbers):
    document = ezdxf.readfile(path)
    auditor = document.audit()
    judge(f"{path.name}: audit", not auditor.errors and not auditor.fixes,
          str([e.message for e in auditor.errors + auditor.fixes][:3]))
    judge(f"{path.name}: millimetres", document.header.get("$INSUNITS") == 4, str(document.header.get("$INSUNITS")))
    inserts = [e.dxf.name for e in document.modelspace() if e.dxftype() == "INSERT"]
    judge(f"{path.name}: every block is put in once", len(inserts) == len(set(inserts)))
    texts = [e.dxf.text for e in document.modelspace() if e.dxftype() == "TEXT"]
    judge(f"{path.name}: units are told", "Units: METRIC" in texts, str(texts))
    wanted = {f"{name_of(key)}_{name_of(size)}": (key, piece)
              for size, facts in numbers["sizes"].items() for key, piece in facts["pieces"].items()}
    judge(f"{path.name}: a block for each piece and size", {n.lower() for n in wanted} == {n.lower() for n in inserts},
          str(set(wanted) ^ set(inserts)))
    for name, (_, piece) in wanted.items():
        block(f"{path.name} {name}", document.blocks.get(name), piece)


def block(name, block, piece):
    if block is None:
        judge(name, False, "no such block")
        return
    of = lambda kind, layer: [e for e in block if e.dxftype() == kind and e.dxf.layer == str(layer)]
    points_of = lambda line: [complex(v.dxf.location.x, -v.dxf.location.y) for v in line.vertices]
    boundaries = of("POLYLINE", 1)
    judge(f"{name}: one closed boundary", len(boundaries) == 1 and boundaries[0].is_closed, str(len(boundaries)))
    points = points_of(boundaries[0])
    wanted = piece["cut_line"]
    line = Line(flat(svgpathtools.parse_path(wanted["path"])))
    perimeter = sum(abs(b - a) for a, b in zip(points, points[1:] + points[:1]))
    judge(f"{name}: perimeter", abs(perimeter - wanted["perimeter_mm"]) <= NEAR, f"{perimeter} {wanted['perimeter_mm']}")
    area = ring_area(points)
    judge(f"{name}: area", abs(area - abs(wanted["area_mm2"])) <= NEAR * perimeter, f"{area} {wanted['area_mm2']}")
    found = box(points)
    judge(f"{name}: box", all(abs(a - b) <= NEAR for a, b in zip(found, wanted["bounds_mm"])), str(found))
    worst = max(line.off(p) for p in points)
    judge(f"{name}: on the cut line", worst <= NEAR, str(worst))
    turns = len(of("POINT", 2)) + len(of("POINT", 3))
    judge(f"{name}: every vertex is a turn or a point of a curve", turns == len(points), f"{turns} {len(points)}")
    allowances = [e["allowance_mm"] for e in piece["edges"].values()]
    fold = piece["edges"].get(piece["fold"] or "", {}).get("length_mm", 0)
    sewn = sum(e["length_mm"] for e in piece["edges"].values() if e["allowance_mm"] > 1e-9)
    if piece["fold"] and piece["edges"][piece["fold"]]["allowance_mm"] > 1e-9:
        sewn -= fold
    marked = sum(m["length_mm"] for m in piece["marks"] if m["kind"] == "stitching")
    lengths = 0
    for polyline in of("POLYLINE", 14):
        p = points_of(polyline)
        lengths += sum(abs(b - a) for a, b in zip(p, p[1:] + (p[:1] if polyline.is_closed else [])))
    if any(a > 1e-9 for a in allowances) or marked:
        judge(f"{name}: sew lines", abs(lengths - sewn - marked) <= 2 * NEAR, f"{lengths} {sewn} {marked}")
    for notch in of("POINT", 4):
        at = complex(notch.dxf.location.x, -notch.dxf.location.y)
        judge(f"{name}: a notch on the boundary", line.off(at) <= NEAR, str(line.off(at)))
    judge(f"{name}: notches", len(of("POINT", 4)) == sum(n["count"] for n in piece["notches"]))
    judge(f"{name}: mirror line", bool(of("LINE", 6)) == bool(piece["fold"]))
    texts = [e.dxf.text for e in of("TEXT", 1)]
    judge(f"{name}: says what it is", any(t == f"Piece Name: {piece['title']}" for t in texts), str(texts))


def drawing(path):
    """Title, view, outlines as (key, path) and all paths of an SVG."""
    tree = xml.parse(path).getroot()
    view = [float(v) for v in tree.get("viewBox").split()]
    for side, length in (("width", view[2]), ("height", view[3])):
        judge(f"{path}: one unit is one mm", tree.get(side) == f"{length:g}mm" or float(tree.get(side)[:-2]) == length,
              tree.get(side))
    outlines, paths = [], []
    for group in tree.findall(f"{SVG}g"):
        for element in group.findall(f"{SVG}path"):
            found = svgpathtools.parse_path(element.get("d"))
            if element.get("class") == "outline":
                outlines.append((element.get("data-piece"), found))
            paths.append((group.get("id"), found))
    return view, outlines, paths


def unfolded(piece):
    """Perimeter and area of the whole piece."""
    line = piece["cut_line"]
    if not piece["fold"]:
        return line["perimeter_mm"], abs(line["area_mm2"])
    seam = svgpathtools.parse_path(piece["seam_line"]["path"])
    ends = fold_ends(piece, seam)
    along = [s for s in svgpathtools.parse_path(line["path"])
             if all(off_line(p, *ends) < 1e-3 for p in samples(s, 4))]
    return 2 * (line["perimeter_mm"] - sum(s.length() for s in along)), 2 * abs(line["area_mm2"])


def fold_ends(piece, seam):
    """The ends of the fold edge: edges stand in the order of the seam line, and it is straight."""
    before = 0
    for name, edge in piece["edges"].items():
        if name == piece["fold"]:
            break
        before += edge["length_mm"]
    at = lambda s: seam.point(seam.ilength(min(s, seam.length())))
    return at(before), at(before + piece["edges"][piece["fold"]]["length_mm"])


def off_line(p, a, b):
    return abs(((p - a) * (b - a).conjugate()).imag) / abs(b - a)


def piece_file(path, piece):
    _, outlines, paths = drawing(path)
    judge(f"{path}: one outline", len(outlines) == 1)
    outline = outlines[0][1]
    perimeter, area = unfolded(piece)
    judge(f"{path}: perimeter", abs(outline.length() - perimeter) <= NEAR, f"{outline.length()} {perimeter}")
    points = flat(outline)
    judge(f"{path}: area", abs(ring_area(points) - area) <= NEAR * perimeter, f"{ring_area(points)} {area}")
    twice(path, paths)


def layout_file(path, pieces):
    view, outlines, paths = drawing(path)
    for key, outline in outlines:
        if len(outline.continuous_subpaths()) > 1 or abs(outline.start - outline.end) > 1e-3:
            continue  # shares a line with its neighbour or with the fold
        areas = [unfolded(piece)[1] for own, piece in pieces if own == key]
        found = ring_area(flat(outline))
        judge(f"{path} {key}: area", any(abs(found - a) <= NEAR * outline.length() for a in areas), f"{found} {areas}")
        x0, y0, x1, y1 = box(flat(outline))
        inside = x0 >= view[0] - 0.05 and y0 >= view[1] - 0.05 and x1 <= view[0] + view[2] + 0.05 \
            and y1 <= view[1] + view[3] + 0.05
        judge(f"{path} {key}: on the cloth", inside, f"{(x0, y0, x1, y1)} {view}")
    twice(path, paths)


def twice(path, paths):
    """Stretches of 0.2 mm that lie on another line."""
    cells, near = {}, 0.005
    stretches = []
    for number, (_, line) in enumerate(paths):
        for part, segment in enumerate(line):
            length = segment.length()
            if length < 0.2:
                continue
            count = max(1, math.floor(length / 0.2))
            points = samples(segment, count)
            for a, b in zip(points, points[1:]):
                stretches.append(((number, part), a, b))
                middle = (a + b) / 2
                cells.setdefault((math.floor(middle.real), math.floor(middle.imag)), []).append(len(stretches) - 1)
    worst = None
    for own, a, b in stretches:
        middle = (a + b) / 2
        x, y = math.floor(middle.real), math.floor(middle.imag)
        for i in (-1, 0, 1):
            for j in (-1, 0, 1):
                for other in cells.get((x + i, y + j), ()):
                    whose, c, d = stretches[other]
                    if whose != own and all(off_segment(p, c, d) < near for p in (middle, a + (b - a) * 0.1, a + (b - a) * 0.9)):
                        worst = (own, whose, middle)
    judge(f"{path}: no line twice", worst is None, str(worst))


def main():
    files = sorted(root.glob("*/*.dxf"))
    judge("there are files for programs of the trade", files, str(root))
    for path in files:
        numbers = json.loads((path.parent / "numbers.json").read_text())
        dxf(path, numbers)
        known = set()
        for size, facts in numbers["sizes"].items():
            for key, piece in facts["pieces"].items():
                own = path.parent / "cut" / size / (key.replace(" ", "-") + ".svg")
                known.add(own)
                judge(f"{own}: is there", own.exists())
                if own.exists():
                    piece_file(own, piece)
        every = [(key, piece) for facts in numbers["sizes"].values() for key, piece in facts["pieces"].items()]
        for own in sorted(set(path.parent.glob("cut/*/*.svg")) - known):
            layout_file(own, every)
    print(f"judges of cut files: {passed} passed, {failed} failed")
    sys.exit(1 if failed else 0)


main()
