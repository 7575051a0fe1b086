"""Check values for offsets and cut lines, made once with GEOS (PyPI `shapely`).

    pip install shapely
    python offsets_geos.py > offsets_geos.json

Millimetres, y down. Every outline is a list of edges, each an SVG path (M, L, C, absolute) that runs on from the one before, clockwise as
seen on the page. Curves are flattened to 0.002 mm: finer input lets GEOS lose area in silence. The values:

    area, perimeter   of the outer boundary
    points            64 points spread evenly along it

A single `distance` moves all edges alike (negative inward) by GEOS's own buffer, with round or mitred joins. A list moves every edge by its
own distance; GEOS then only unites the piece with one four-cornered strip for each chord of the flattened edge and a mitred patch
at each corner that opens. Curved pieces with mitres are made that way too, because the buffer mitres the chords and not the curves.
"""
import json
import math
import shapely
from shapely.geometry import Polygon

CHORD = 0.002


def polygon(*points):
    return [f"M{x:.4f},{y:.4f} L{u:.4f},{v:.4f}" for (x, y), (u, v) in zip(points, points[1:] + points[:1])]


def arc(cx, cy, rx, ry, start, sweep, pieces, move=True):
    step = math.radians(sweep) / pieces
    k = 4 / 3 * math.tan(step / 4)
    at = lambda a: (cx + rx * math.cos(a), cy + ry * math.sin(a))
    out = ""
    for i in range(pieces):
        a, b = math.radians(start) + i * step, math.radians(start) + (i + 1) * step
        p, q = at(a), at(b)
        if move and i == 0:
            out += f"M{p[0]:.6f},{p[1]:.6f} "
        out += (f"C{p[0] - k * rx * math.sin(a):.6f},{p[1] + k * ry * math.cos(a):.6f} "
                f"{q[0] + k * rx * math.sin(b):.6f},{q[1] - k * ry * math.cos(b):.6f} {q[0]:.6f},{q[1]:.6f} ")
    return out.strip()


def star(points, outer, inner):
    ring = []
    for i in range(2 * points):
        r, a = (outer if i % 2 == 0 else inner), math.pi * i / points - math.pi / 2
        ring.append((r * math.cos(a), r * math.sin(a)))
    return polygon(*ring)


def wave(count, mean, depth):
    """One smooth closed edge whose radius swells and shrinks, as Hermite cubics of r = mean + depth cos(count a)."""
    pieces = 12 * count
    at = lambda a: ((mean + depth * math.cos(count * a)) * math.cos(a), (mean + depth * math.cos(count * a)) * math.sin(a))
    def slope(a):
        r, d = mean + depth * math.cos(count * a), -depth * count * math.sin(count * a)
        return (d * math.cos(a) - r * math.sin(a), d * math.sin(a) + r * math.cos(a))
    step = 2 * math.pi / pieces
    out = "M%.6f,%.6f" % at(0.0)
    for i in range(pieces):
        a, b = i * step, (i + 1) * step
        p, q, s, t = at(a), at(b), slope(a), slope(b)
        out += " C%.6f,%.6f %.6f,%.6f %.6f,%.6f" % (p[0] + s[0] * step / 3, p[1] + s[1] * step / 3, q[0] - t[0] * step / 3, q[1] - t[1] * step / 3, *q)
    return [out]


TOE = [  # a toe piece of four curved edges
    "M-24.8,0 C-22.6,-6.4 -19.7,-16.9 -16.6,-22.6 C-13.2,-28.9 -7.4,-33.4 0,-33.4",
    "M0,-33.4 C7.4,-33.4 13.6,-28.4 16.8,-22.4 C19.9,-16.6 22.4,-6.5 24.4,0.4",
    "M24.4,0.4 L12.2,3.9",
    "M12.2,3.9 C10.8,-2.8 6.1,-9.6 0,-9.6 C-6.2,-9.6 -11.1,-2.9 -12.4,4",
    "M-12.4,4 L-24.8,0",
]
HEEL = [  # a long heel piece, hollow along its lower edge
    "M-42,0 C-26,-4.5 -12,-6.2 0,-6.2 C12,-6.2 26,-4.4 42,0.2",
    "M42,0.2 C41,4 39.9,8 38.6,12.4",
    "M38.6,12.4 C26,9.2 13,7.6 0,7.6 C-13,7.6 -26,9 -38.8,12.2",
    "M-38.8,12.2 L-42,0",
]
CRESCENT = [arc(0, 0, 30, 30, -90, 180, 8), "M0.000000,30.000000 L0,24", arc(0, 0, 24, 24, 90, -180, 8), "M0,-24 L0,-30"]
LEAF = ["M-25,0 C-12,-16 12,-16 25,0", "M25,0 C12,16 -12,16 -25,0"]
KIDNEY = ["M-20,0 C-30,-24 30,-24 20,0 C18,6 8,9 5,5 C2,0 -2,0 -5,5 C-8,9 -18,6 -20,0"]
DROP = ["M0,-28 C3,-16 14,-8 14,4 C14,12 8,18 0,18 C-8,18 -14,12 -14,4 C-14,-8 -3,-16 0,-28"]
BANNER = ["M-30,-8 C-12,-20 10,6 30,-8", "M30,-8 L30,8", "M30,8 C10,22 -12,-4 -30,8", "M-30,8 L-30,-8"]
BEND = [  # an edge that bends sharply where it ends
    "M10.101549,-3.406516 L2.989494,8.925295",
    "M2.989494,8.925295 C-2.980798,11.311593 -16.79279,-4.759709 -11.707192,-6.95803",
    "M-11.707192,-6.95803 C-10.377391,-6.475671 0.440055,-8.228048 0.35806,-1.785509",
    "M0.35806,-1.785509 L10.101549,-3.406516",
]
ELL = polygon((0, 0), (40, 0), (40, 30), (20, 30), (20, 15), (0, 15))
CROSS = polygon((-6, -20), (6, -20), (6, -6), (20, -6), (20, 6), (6, 6), (6, 20), (-6, 20), (-6, 6), (-20, 6), (-20, -6), (-6, -6))
TRIANGLE = polygon((0, 0), (40, 0), (6, 22))
ELLIPSE = [arc(0, 0, 30, 20, 0, 360, 16)]
HEXAGON = polygon((-20, 0), (-8, -17), (12, -15), (21, 1), (9, 16), (-11, 14))

CASES = [
    ("rectangle, round", polygon((0, 0), (40, 0), (40, 20), (0, 20)), 5, "round"),
    ("rectangle, mitred", polygon((0, 0), (40, 0), (40, 20), (0, 20)), 5, "mitre"),
    ("ellipse", ELLIPSE, 6, "round"),
    ("ellipse, inward", ELLIPSE, -6, "round"),
    ("ell, round", ELL, 5, "round"),
    ("ell, mitred", ELL, 5, "mitre"),
    ("star, mitred", star(5, 30, 14), 3, "mitre"),
    ("star, inward", star(5, 30, 14), -2, "round"),
    ("sharp triangle, mitred", TRIANGLE, 4, "mitre"),
    ("sharp triangle, round", TRIANGLE, 4, "round"),
    ("crescent", CRESCENT, 4, "round"),
    ("toe piece, mitred", TOE, [4.7625] * 5, "mitre"),
    ("toe piece, inward", TOE, -2.5, "round"),
    ("heel piece, mitred", HEEL, [4.7625] * 4, "mitre"),
    ("kidney with a hollow tighter than its allowance", KIDNEY, 5, "round"),
    ("leaf with two sharp ends", LEAF, 3, "round"),
    ("drop, one edge with one corner", DROP, [4], "mitre"),
    ("banner", BANNER, [4] * 4, "mitre"),
    ("cross, mitred", CROSS, 3, "mitre"),
    ("cross, inward", CROSS, -2, "round"),
    ("wave with five hollows", wave(5, 24, 4), 4, "round"),
    ("wave, inward", wave(5, 24, 4), -5, "round"),
    ("hexagon, an allowance for each edge", HEXAGON, [3, 5, 4, 6, 5, 4], "mitre"),
    ("toe piece, an allowance for each edge", TOE, [5, 5, 3, 3.5, 3], "mitre"),
    ("heel piece, an allowance for each edge", HEEL, [6, 4, 3, 4], "mitre"),
    ("sharp bend, inward", BEND, -2.891096, "round"),
    ("sharp bend, outward", BEND, 4, "round"),
]


def flatten(d):
    """Points and unit tangents along a path."""
    points, tangents, here = [], [], None
    numbers = lambda text: [float(n) for n in text.replace(",", " ").split()]
    for part in d.replace("M", "|M").replace("L", "|L").replace("C", "|C").split("|")[1:]:
        n = numbers(part[1:])
        if part[0] == "M":
            here = (n[0], n[1])
            continue
        c = [here] + [(n[i], n[i + 1]) for i in range(0, len(n), 2)]
        if part[0] == "L":
            c = [c[0], tuple(c[0][i] + (c[1][i] - c[0][i]) / 3 for i in (0, 1)), tuple(c[0][i] + (c[1][i] - c[0][i]) * 2 / 3 for i in (0, 1)), c[1]]
            steps = 1
        else:
            bend = max(math.hypot(c[i][0] - 2 * c[i + 1][0] + c[i + 2][0], c[i][1] - 2 * c[i + 1][1] + c[i + 2][1]) for i in (0, 1))
            steps = max(4, math.ceil(math.sqrt(6 * bend / 8 / CHORD)))
        for k in range(steps + 1):
            t = k / steps
            if k == 0 and points:
                continue
            s = 1 - t
            points.append(tuple(s ** 3 * c[0][i] + 3 * s * s * t * c[1][i] + 3 * s * t * t * c[2][i] + t ** 3 * c[3][i] for i in (0, 1)))
            v = tuple(s * s * (c[1][i] - c[0][i]) + 2 * s * t * (c[2][i] - c[1][i]) + t * t * (c[3][i] - c[2][i]) for i in (0, 1))
            h = math.hypot(*v)
            tangents.append((v[0] / h, v[1] / h))
        here = c[3]
    return points, tangents


def outward(p, t, d):
    return (p[0] + d * t[1], p[1] - d * t[0])


def strips(edges, allowances, piece):
    patches, flat = [piece], [flatten(d) for d in edges]
    for (points, tangents), d in zip(flat, allowances):
        for i in range(len(points) - 1):
            quad = [points[i], points[i + 1], outward(points[i + 1], tangents[i + 1], d), outward(points[i], tangents[i], d)]
            patches.append(Polygon(quad).buffer(1e-7))
    for i in range(len(edges)):
        (_, before), (points, after), d, e = flat[i - 1], flat[i], allowances[i - 1], allowances[i]
        u, v, vertex = before[-1], after[0], points[0]
        turn = math.atan2(u[0] * v[1] - u[1] * v[0], u[0] * v[0] + u[1] * v[1])
        if turn > math.radians(1):
            a, along = outward(vertex, u, d), (e - d * math.cos(turn)) / math.sin(turn)
            meeting = (a[0] + along * u[0], a[1] + along * u[1])
            patches.append(Polygon([vertex, a, meeting, outward(vertex, v, e)]).buffer(1e-7))
    return shapely.unary_union(patches)


def main():
    out = []
    for name, edges, distance, join in CASES:
        ring = [p for d in edges for p in flatten(d)[0][:-1]]
        piece = Polygon(ring)
        assert piece.is_valid, name
        if isinstance(distance, list):
            moved = strips(edges, distance, piece)
        else:
            moved = piece.buffer(distance, quad_segs=64, join_style=join, mitre_limit=20)
        assert moved.geom_type == "Polygon", name
        outer = Polygon(moved.exterior)
        points = [outer.exterior.interpolate(i / 64, normalized=True) for i in range(64)]
        out.append(dict(name=name, edges=edges, distance=distance, join=join, area=round(outer.area, 4), perimeter=round(outer.length, 4),
                        points=[[round(p.x, 5), round(p.y, 5)] for p in points]))
    print("[\n" + ",\n".join(json.dumps(c) for c in out) + "\n]")


main()
