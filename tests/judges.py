#!/usr/bin/env python3
"""Outside judges of the demo booklets in build-output: qpdf, outloud, poppler's rendering, and a parser of HTML.

    tests/judges.py [OUTLOUD]

- `qpdf --check` finds no damage in any PDF (qpdf, Debian).
- `outloud` finds no error of PDF/UA-1 (PyPI). Left out are PAG-001 and ORD-001: they guess at page
  labels and reading order from positions, which plates do not have.
- The test squares, rendered by poppler at 600 dpi, measure right to one pixel: the distance
  between the middles of opposite lines is 50 mm and 50.8 mm (1 px = 0.0423 mm).

- Each proof.html is read by Python's own HTML parser: it is one file of less than 5 MB without a script or
  an address of the network, its ids are unique and its links lead to them, every tag is closed, and it
  shows as many pages of each PDF as pikepdf counts.

- Each proof sheet is read with poppler's pdftotext: it has one page or two, names a booklet that is there, says
  50 mm and 50.8 mm of the squares, and its other lengths are widths and heights of cut lines in numbers.json,
  rounded here anew.

- pikepdf reads page boxes, wishes to viewers, page labels and layers; with a layer off, poppler shows
  less, and the squares stay.

Used when this was written: qpdf 11, poppler 22, pikepdf 10.

proof.json says where the squares are looked for; how large they are is read from the pixels.
"""
import html.parser
import json
import pathlib
import re
import subprocess
import sys
import tempfile

import pikepdf
from PIL import Image

Image.MAX_IMAGE_PIXELS = None
DPI = 600
LARGE = ("-a0", "-a1", "-a2", "-roll24", "-roll36")
PIXEL = 25.4 / DPI
outloud = sys.argv[1] if len(sys.argv) > 1 else "outloud"
root = pathlib.Path(__file__).resolve().parent.parent / "build-output"
passed = failed = 0


def judge(name, good, detail=""):
    global passed, failed
    passed, failed = passed + bool(good), failed + (not good)
    print(("ok    " if good else "WRONG ") + name + (f": {detail}" if detail and not good else ""))


def run(*words):
    done = subprocess.run(words, capture_output=True, text=True)
    return done.returncode, done.stdout + done.stderr


def middles(values, dark=128):
    """Middles of the dark runs in a row of grey values, weighted by darkness, in pixels."""
    runs, start = [], None
    for index, value in enumerate(list(values) + [255]):
        if value < dark and start is None:
            start = index
        elif value >= dark and start is not None:
            low, high = max(0, start - 1), min(len(values), index + 1)
            weight = sum(255 - values[i] for i in range(low, high))
            runs.append(sum((255 - values[i]) * (i + 0.5) for i in range(low, high)) / weight)
            start = None
    return runs


def side(picture, x, y, length, across):
    """Distance in px between the two lines that cross a scan from x, y along one axis."""
    reach = round((length + 4) / PIXEL)
    x0, y0 = round(x / PIXEL), round(y / PIXEL)
    if across:
        line = [picture.getpixel((x0 + i, y0)) for i in range(reach)]
    else:
        line = [picture.getpixel((x0, y0 + i)) for i in range(reach)]
    found = middles(line)
    return (found[-1] - found[0]) if len(found) >= 2 else 0.0


def near_squares(pdf, facts):
    """As below, on a page too large to be rendered whole: only what is round each square."""
    with tempfile.TemporaryDirectory() as folder:
        for fact in facts:
            x, y = fact["x_mm"], fact["y_mm"]
            left, top, reach = (round(v / PIXEL) for v in (x - 4, y - 4, 60))
            base = f"{folder}/square"
            run("pdftoppm", "-r", str(DPI), "-gray", "-f", str(fact["page"]), "-l",
                str(fact["page"]), "-x", str(left), "-y", str(top), "-W", str(reach), "-H",
                str(reach), "-singlefile", str(pdf), base)
            with Image.open(base + ".pgm") as opened:
                measured(pdf, opened.convert("L"), fact, x - left * PIXEL, y - top * PIXEL)


def measured(pdf, picture, fact, x, y):
    """Judges one square whose corner is about x, y mm from the picture's."""
    nominal = 50.0 if abs(fact["width_mm"] - 50.0) < 0.4 else 50.8
    # A scan near a corner of the square crosses only its two opposite lines.
    wide = side(picture, x - 2, y + 3, nominal, True)
    high = side(picture, x + 3, y - 2, nominal, False)
    for way, pixels in (("across", wide), ("down", high)):
        good = abs(pixels - nominal / PIXEL) <= 1.0
        judge(f"{pdf.name} page {fact['page']}: {nominal} mm {way}", good, f"{pixels:.2f} px")


def squares(pdf, facts):
    with tempfile.TemporaryDirectory() as folder:
        for page in sorted({fact["page"] for fact in facts}):
            base = f"{folder}/p{page}"
            run("pdftoppm", "-r", str(DPI), "-gray", "-f", str(page), "-l", str(page),
                "-singlefile", str(pdf), base)
            with Image.open(base + ".pgm") as opened:
                picture = opened.convert("L")
            for fact in (f for f in facts if f["page"] == page):
                measured(pdf, picture, fact, fact["x_mm"], fact["y_mm"])


def publication(pdf, facts):
    """What pikepdf reads of boxes, wishes to viewers, page labels and layers."""
    with pikepdf.open(pdf) as file:
        root = file.Root
        scaling = root.get("/ViewerPreferences", {}).get("/PrintScaling")
        judge(f"{pdf.name}: no scaling asked of viewers", scaling == "/None", str(scaling))
        for number, page in enumerate(file.pages, 1):
            # ISO 15930: TrimBox within BleedBox within MediaBox, no ArtBox beside it
            trim, bleed, media = ([float(v) for v in page.obj[key]]
                                  for key in ("/TrimBox", "/BleedBox", "/MediaBox"))
            inside = all(outer[0] <= inner[0] + 1e-3 and outer[1] <= inner[1] + 1e-3
                         and outer[2] >= inner[2] - 1e-3 and outer[3] >= inner[3] - 1e-3
                         for inner, outer in ((trim, bleed), (bleed, media)))
            if not inside or "/ArtBox" in page.obj:
                judge(f"{pdf.name} page {number}: boxes", False, f"{trim} {bleed} {media}")
        if facts:
            labels = [page.label for page in file.pages]
            plate = "Schnittbogen " if "-de-" in pdf.name else "Plate "
            good = labels[facts[-1]["page"] - 1].startswith(plate)
            judge(f"{pdf.name}: pages of plates are labelled", good, str(labels))
        layers = root.get("/OCProperties")
        if layers is None:
            return
        shown = layers.D
        good = str(shown.get("/Name", "")) != "" and "/AS" not in shown
        judge(f"{pdf.name}: layers have a named setting without AS", good)
        if facts and len(layers.OCGs) > 2:
            layer_off(pdf, file, facts)


def dark_pixels(pdf, page):
    with tempfile.TemporaryDirectory() as folder:
        run("pdftoppm", "-r", "40", "-gray", "-f", str(page), "-l", str(page), "-singlefile",
            str(pdf), f"{folder}/p")
        with Image.open(f"{folder}/p.pgm") as opened:
            return sum(opened.histogram()[:200])


def layer_off(pdf, file, facts):
    """With a size's layer off, poppler shows less; with all off, the squares stay."""
    groups = file.Root.OCProperties.OCGs
    pages = sorted({fact["page"] for fact in facts})
    before = sum(dark_pixels(pdf, page) for page in pages)
    with tempfile.TemporaryDirectory() as folder:
        one_off, all_off = pathlib.Path(folder, "one-off.pdf"), pathlib.Path(folder, "all-off.pdf")
        file.Root.OCProperties.D.OFF = pikepdf.Array([groups[0]])
        file.save(one_off)
        one = sum(dark_pixels(one_off, page) for page in pages)
        judge(f"{pdf.name}: {groups[0].Name} can be hidden", one < before, f"{one} of {before}")
        file.Root.OCProperties.D.OFF = pikepdf.Array(list(groups))
        file.save(all_off)
        measure = near_squares if pdf.stem.endswith(LARGE) else squares
        measure(all_off, facts[:2])


class Page(html.parser.HTMLParser):
    """Ids, links and figures of a page; tags that are closed in a wrong order are kept."""

    VOID = {"meta", "br", "hr", "img", "link", "input"}

    def __init__(self):
        super().__init__()
        self.open, self.ids, self.links, self.wrong, self.pages = [], [], [], [], 0

    def handle_starttag(self, tag, attributes):
        self.note(dict(attributes))
        if tag not in self.VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag, attributes):
        self.note(dict(attributes))

    def note(self, attributes):
        if "id" in attributes:
            self.ids.append(attributes["id"])
            self.pages += attributes["id"].endswith("-page")
        self.links += [attributes[k] for k in ("href", "src", "xlink:href") if k in attributes]

    def handle_endtag(self, tag):
        if not self.open or self.open.pop() != tag:
            self.wrong.append(tag)


def page_of_the_proof(path):
    name, text = f"{path.parent.name}/{path.name}", path.read_text(encoding="utf-8")
    judge(f"{name}: under 5 MB", path.stat().st_size < 5_000_000, str(path.stat().st_size))
    page = Page()
    page.feed(text)
    page.close()
    judge(f"{name}: tags are closed", not page.wrong and not page.open, str(page.wrong[:3] + page.open[:3]))
    judge(f"{name}: ids are unique", len(set(page.ids)) == len(page.ids))
    astray = [link for link in page.links if link[:1] != "#" or link[1:] not in page.ids]
    judge(f"{name}: links stay on the page", page.links and not astray, str(astray[:3]))
    judge(f"{name}: no script and no network", not re.search("<script|https?:|@import|url[(]", text))
    count = 0
    for pdf in path.parent.glob("*.pdf"):
        with pikepdf.open(pdf) as opened:
            count += len(opened.pages)
    judge(f"{name}: every page is shown", page.pages == count, f"{page.pages} of {count}")


pdfs = sorted(root.rglob("*.pdf"))
judge("there are finished booklets", len(pdfs) >= 4, str(len(pdfs)))
for pdf in pdfs:
    code, text = run("qpdf", "--check", str(pdf))
    judge(f"{pdf.name}: qpdf --check", code == 0, text[-400:])
    code, text = run(outloud, "--skip", "PAG-001,ORD-001", "--fail-on", "error", "--no-info",
                     str(pdf))
    judge(f"{pdf.name}: outloud", code == 0, text[-1500:])
    report = json.loads((pdf.parent / "proof.json").read_text())
    judge(f"{pdf.name}: proof passed", report["passed"])
    facts = report["measured"][pdf.name]["test_squares"]
    measure = near_squares if pdf.stem.endswith(LARGE) else squares
    measure(pdf, facts)
    publication(pdf, facts)
def proof_sheet(pdf):
    text = run("pdftotext", "-layout", str(pdf), "-")[1].replace(",", ".")
    with pikepdf.open(pdf) as opened:
        judge(f"{pdf.name}: one page or two", len(opened.pages) in (1, 2), str(len(opened.pages)))
    named = re.findall(r"[\w-]+\.pdf", text)
    judge(f"{pdf.name}: names a booklet", named and (pdf.parent / named[0]).exists(), str(named))
    rows = re.findall(r"(\d+(?:\.\d)?) ?(mm|cm)(?: \([^)]*\))? +\d+(?:\.\d)? ?mm\b", text)
    lengths = [(float(figure), unit) for figure, unit in rows]
    squares = [l for l in lengths if l in ((50.0, "mm"), (50.8, "mm"))]
    judge(f"{pdf.name}: both squares, both ways", len(squares) >= 4, str(lengths))
    numbers = json.loads((pdf.parent / "numbers.json").read_text())
    allowed = set()
    for size in numbers["sizes"].values():
        for piece in size["pieces"].values():
            left, top, right, bottom = piece["cut_line"]["bounds_mm"]
            for mm in (right - left, bottom - top):
                allowed |= {(int(mm * 10 + 0.5 + 1e-8) / 10, "mm"), (int(mm + 0.5 + 1e-8) / 10, "cm")}
    own = [l for l in lengths if l not in squares]
    astray = [l for l in own if l not in allowed]
    judge(f"{pdf.name}: lengths of pieces are right", len(own) >= 2 and not astray, str(astray or lengths))


for pdf in sorted(root.glob("*/*-proof-sheet-*.pdf")):
    proof_sheet(pdf)
for path in sorted(root.glob("*/proof.html")):
    page_of_the_proof(path)
print(f"judges: {passed} passed, {failed} failed")
sys.exit(1 if failed else 0)
