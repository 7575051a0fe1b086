"""The live pages of `pressfoot watch` in a browser: headless Chromium (`live/browser.py`). Only the standard
library is needed.

    python3 tests/live_pages.py PROGRAM [DESIGN] [--shots FOLDER]

Copies DESIGN (frost-slipper) to a folder of its own, watches it, and looks at what a person would see:
the new page after a save, an error with the lines of the file, the piece that is clicked, what changed, all
by keyboard too, light and dark, with nothing asked of any other machine. Prints how long a new page takes
beside a cold build of the same design; nothing is decided by a clock.
"""

import pathlib
import shutil
import sys
import tempfile

from live import looks
from live.browser import Browser
from live.program import Watch

PROJECT = pathlib.Path(__file__).resolve().parent.parent

# what moves most of a shoe: its ease
CHANGES = {"frost-slipper": ("foot.length) + 0.5 mm", [f"foot.length) + {ease} mm" for ease in (0.6, 0.7, 0.8)])}


def change_of(design, file):
    """A measurement of the design, and the same a little larger, three times."""
    known = CHANGES.get(design)
    text = file.read_text()
    if known and text.count(known[0]) == 1:
        return known
    for line in text.splitlines():
        name, _, value = line.partition(":")
        figure, _, unit = value.strip().partition(" ")
        if unit.split("#")[0].strip() == "mm" and figure.replace(".", "").isdigit() and text.count(line) == 1:
            larger = [f"{float(figure) + more:g}" for more in (0.5, 1, 1.5)]
            return line, [line.replace(f"{figure} mm", f"{one} mm", 1) for one in larger]
    raise SystemExit(f"{file}: no measurement to change")


def main():
    arguments = sys.argv[1:]
    shots = None
    if "--shots" in arguments:
        at = arguments.index("--shots")
        shots = pathlib.Path(arguments[at + 1]).resolve()
        shots.mkdir(parents=True, exist_ok=True)
        del arguments[at:at + 2]
    program = str(pathlib.Path(arguments[0]).resolve())
    design = arguments[1] if len(arguments) > 1 else "frost-slipper"
    with tempfile.TemporaryDirectory(prefix="live-pages-") as place:
        place = pathlib.Path(place)
        for name in (design, "_shared"):
            shutil.copytree(PROJECT / "designs" / name, place / "designs" / name)
        file = place / "designs" / design / "design.yaml"
        right, others = change_of(design, file)
        other = others[0]
        print(f"{design}: ‘{right.strip()}’ becomes ‘{other.strip()}’")
        watch = Watch(program, place, [design])
        browser = Browser()
        browser.origin = watch.address
        try:
            browser.ask("POST", "/url", {"url": watch.address})
            looks.look_at_changes(browser, program, place, design, (file, right, others), shots)
            unit = other.replace(" mm", "", 1)
            looks.look_at_an_error(browser, file, other, unit, shots)
            browser.until(looks.SETTLED)
            looks.look_by_keyboard(browser, shots)
            looks.look_at_a_piece(browser, place, design)
            least, where = looks.contrast(browser)
            assert least >= 4.5, (least, where)
            errors = [entry for entry in browser.log("browser") if entry["level"] == "SEVERE"]
            assert not errors, errors
            for size in ((1600, 1000), (1000, 800)):
                looks.look_in_the_dark(program, watch.address, shots, size)
        finally:
            browser.close()
            watch.close()
    print("live pages: all as it should be")


if __name__ == "__main__":
    main()
