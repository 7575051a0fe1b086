"""The live pages of `pressfoot watch` in a browser: headless Chromium, driven through chromedriver's plain
HTTP (W3C WebDriver, Recommendation of 5 June 2018). Only the standard library is needed.

    python3 tests/live_pages.py PROGRAM [DESIGN] [--shots FOLDER]

Copies DESIGN (frost-slipper) to a folder of its own, watches it, and looks at what a person would see:
the new page after a save, an error with the lines of the file, the piece that is clicked, what changed, all
by keyboard too, light and dark, with nothing asked of any other machine. Prints how long a new page takes
beside a cold build of the same design; nothing is decided by a clock.
"""

import base64
import contextlib
import json
import os
import pathlib
import shutil
import signal
import socket
import subprocess
import sys
import tempfile
import time
import urllib.request

PROJECT = pathlib.Path(__file__).resolve().parent.parent
ENVIRONMENT = {**os.environ, "SOURCE_DATE_EPOCH": "1790000000"}
# https://www.w3.org/TR/webdriver2/#elements
ELEMENT = "element-6066-11e4-a52e-4f735466cecf"
# code points of keys: https://www.w3.org/TR/webdriver2/#keyboard-actions
ENTER, ESCAPE, TAB = "\ue007", "\ue00c", "\ue004"
PATIENCE = 240


class Browser:
    """A session of headless Chromium."""

    def __init__(self, dark=False, size=(1600, 1000)):
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self.port = free.getsockname()[1]
        self.driver = subprocess.Popen(
            ["chromedriver", f"--port={self.port}"], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        arguments = ["--headless=new", "--no-sandbox", "--disable-dev-shm-usage", "--hide-scrollbars",
                     "--disable-background-networking", "--no-first-run", f"--window-size={size[0]},{size[1]}"]
        if dark:
            arguments.append("--force-dark-mode")
        always = {"browserName": "chrome", "goog:chromeOptions": {"args": arguments},
                  "goog:loggingPrefs": {"browser": "ALL", "performance": "ALL"}}
        for _ in range(100):
            with contextlib.suppress(OSError):
                made = self.ask("POST", "/session", {"capabilities": {"alwaysMatch": always}}, "")
                self.session = f"/session/{made['sessionId']}"
                return
            time.sleep(0.1)
        raise SystemExit("chromedriver does not start")

    def ask(self, method, path, body=None, session=None):
        base = self.session if session is None else session
        data = None if body is None else json.dumps(body).encode()
        request = urllib.request.Request(f"http://127.0.0.1:{self.port}{base}{path}", data, method=method,
                                         headers={"Content-Type": "application/json"})
        with urllib.request.urlopen(request, timeout=120) as answer:
            return json.load(answer)["value"]

    def run(self, script, *arguments):
        return self.ask("POST", "/execute/sync", {"script": script, "args": list(arguments)})

    def until(self, script, *arguments, what=None):
        """What `script` gives as soon as it is true to JavaScript."""
        end = time.monotonic() + PATIENCE
        while time.monotonic() < end:
            value = self.run(script, *arguments)
            if value:
                return value
            time.sleep(0.02)
        raise AssertionError(f"it never came: {what or script}\n{self.run('return document.body.innerText')}")

    def type(self, *keys):
        strokes = [stroke for key in keys for stroke in
                   ({"type": "keyDown", "value": key}, {"type": "keyUp", "value": key})]
        self.ask("POST", "/actions", {"actions": [{"type": "key", "id": "keys", "actions": strokes}]})

    def click(self, selector):
        found = self.ask("POST", "/element", {"using": "css selector", "value": selector})
        self.ask("POST", f"/element/{found[ELEMENT]}/click", {})

    def log(self, kind):
        return self.ask("POST", "/se/log", {"type": kind})

    def shot(self, folder, name):
        if folder:
            picture = base64.b64decode(self.ask("GET", "/screenshot"))
            (folder / f"{name}.png").write_bytes(picture)

    def close(self):
        with contextlib.suppress(Exception):
            self.ask("DELETE", "")
        self.driver.terminate()
        self.driver.wait()


class Watch:
    """`pressfoot watch` over a folder of designs."""

    def __init__(self, program, place, names):
        command = [program, "watch", *names, "--port", "0", "--format", "json"]
        self.child = subprocess.Popen(command, cwd=place, env=ENVIRONMENT, stdout=subprocess.PIPE,
                                      stderr=subprocess.DEVNULL, text=True)
        line = json.loads(self.child.stdout.readline())
        assert line["kind"] == "desk", line
        self.address = line["address"]

    def close(self):
        self.child.send_signal(signal.SIGINT)
        code = self.child.wait(60)
        assert code == 0, f"Ctrl-C ended it with {code}"


# pages are drawn as they come near; those in sight count
SHOWN = """
  const inSight = (page) => {
    const box = page.getBoundingClientRect();
    return box.bottom > 0 && box.top < innerHeight;
  };
  const pages = [...document.querySelectorAll('.page')];
  return document.body.dataset.fresh === 'true' && pages.length > 0
    && pages.filter(inSight).every((page) => page.dataset.shown === page.dataset.name)
    && pages.map((page) => page.dataset.name);
"""
SETTLED = "return document.getElementById('status').dataset.state !== 'busy' && document.getElementById('status').textContent"


def cold_build(program, place, design):
    shutil.rmtree(place / "cold", ignore_errors=True)
    begun = time.monotonic()
    built = subprocess.run([program, "build", design, "--out", "cold", "--quiet"], cwd=place, env=ENVIRONMENT,
                           stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    assert built.returncode == 0, f"{design} does not build"
    return time.monotonic() - begun


def saved(file, old, new):
    text = file.read_text()
    assert text.count(old) == 1, f"{file.name}: {old!r} stands there {text.count(old)} times"
    beside = file.with_name(f".{file.name}.part")
    beside.write_text(text.replace(old, new))
    beside.rename(file)


def new_page(browser, old):
    """Waits until a page stands there that was not among `old`, in sight and drawn."""
    begun = time.monotonic()
    script = SHOWN.replace(
        "&& pages.filter", "&& pages.some((page) => !arguments[0].includes(page.dataset.name)) && pages.filter")
    names = browser.until(script, old, what="a new page")
    return names, time.monotonic() - begun


def look_at_changes(browser, program, place, design, change, shots):
    browser.until(SHOWN, what="the first pages")
    browser.until(SETTLED, what="the proof")
    browser.shot(shots, "light")
    file, one, others = change
    cold = [cold_build(program, place, design) for _ in range(2)]
    names = browser.until(SHOWN)
    took = []
    # each new to it, then back to pages that were shown before
    states = [one, *others, one, others[0]]
    for old, new in zip(states, states[1:]):
        saved(file, old, new)
        _, seconds = new_page(browser, names)
        took.append(seconds)
        browser.until(SETTLED, what="the proof")
        # what was drawn roughly has been drawn anew by now
        names = browser.until(SHOWN)
    new, again = took[:len(others)], took[len(others):]
    ratio = sorted(new)[len(new) // 2] / min(cold)
    told = lambda times: ", ".join(f"{t:.2f}" for t in times)
    print(f"  a new page in {told(new)} s, one that was there before in {told(again)} s, a cold build in "
          f"{told(cold)} s: {ratio:.2f} of it")
    # only what changed is asked for; what the browser has kept is not
    events = [json.loads(entry["message"])["message"] for entry in browser.log("performance")]
    kept = {event["params"]["requestId"] for event in events if event["method"] == "Network.requestServedFromCache"}
    kept |= {event["params"]["requestId"] for event in events if event["method"] == "Network.responseReceived"
             and event["params"]["response"].get("fromDiskCache")}
    asked = [event["params"] for event in events if event["method"] == "Network.requestWillBeSent"]
    urls = [one["request"]["url"] for one in asked]
    pages = [one["request"]["url"] for one in asked if one["requestId"] not in kept]
    pages = [url for url in pages if "/kept/" in url and url.endswith(".svg")]
    twice = {url for url in pages if pages.count(url) > 1}
    assert not twice, f"asked for twice: {twice}"
    foreign = [url for url in urls if url and not url.startswith(browser.origin) and not url.startswith("data:")]
    assert not foreign, foreign
    changed = browser.run("return document.querySelectorAll('.page.is-changed').length")
    whole = browser.run("return document.querySelectorAll('.page').length")
    assert 0 < changed < whole, f"{changed} of {whole} pages changed"
    assert browser.run("return document.querySelectorAll('#changes li').length") > 0
    browser.type("c")
    browser.type("d")
    browser.until("return document.querySelector('.comparing .has-old img.old')", what="the old page")
    time.sleep(0.5)
    browser.shot(shots, "changed")
    browser.type("c")
    print(f"  {changed} of {whole} pages changed, and are told and drawn over the last good ones")


def look_at_an_error(browser, file, right, wrong, shots):
    saved(file, right, wrong)
    browser.until("return document.querySelector('.message.error .excerpt mark')", what="the error")
    told = browser.run("""
      const message = document.querySelector('.message.error');
      return {mark: message.querySelector('mark').textContent, at: message.querySelector('.at').textContent,
              remedy: message.querySelector('.remedy')?.textContent ?? '', stale: !document.getElementById('stale').hidden,
              pages: document.querySelectorAll('.page img').length};
    """)
    assert told["mark"].strip() and told["mark"] in file.read_text(), told
    assert "design.yaml:" in told["at"] and told["remedy"] and told["pages"] > 0, told
    browser.until("return !document.getElementById('stale').hidden", what="that the pages are old")
    browser.until(SETTLED)
    browser.shot(shots, "error")
    saved(file, wrong, right)
    browser.until("return !document.querySelector('.message.error') && document.body.dataset.fresh === 'true'",
                  what="the error gone")
    print(f"  an error at {told['at'].strip()}, marked ‘{told['mark']}’, and gone when mended")


def look_by_keyboard(browser, shots):
    browser.run("document.body.tabIndex = -1; document.body.focus(); document.getElementById('pages').scrollTo({top: 0, behavior: 'instant'})")
    browser.type(TAB)
    focused = browser.run("""
      const box = document.activeElement.getBoundingClientRect();
      return [document.activeElement.className, box.left >= 0, getComputedStyle(document.activeElement).outlineStyle];
    """)
    assert focused == ["skip", True, "solid"], focused
    before = browser.run("return document.getElementById('zoom').textContent")
    browser.type("1")
    assert browser.run("return document.getElementById('zoom').textContent") == "100 %"
    wide = browser.run("""
      const sheet = document.querySelector('.sheet');
      return sheet.getBoundingClientRect().width / Number(sheet.style.getPropertyValue('--wide'));
    """)
    # CSS Values 4, 6.2: 1 mm is 96/25.4 px
    assert abs(wide - 96 / 25.4) < 1e-3, wide
    browser.type("+")
    assert browser.run("return document.getElementById('zoom').textContent") == "125 %"
    browser.type("0")
    assert browser.run("return document.getElementById('zoom').textContent") == before
    browser.type("j")
    browser.until("return document.activeElement.dataset.index === '1'", what="the second page by key")
    # every control has a name, and can be reached
    nameless = browser.run("""
      return [...document.querySelectorAll('button, input, main, nav, aside, [role]')].filter((one) =>
        one.checkVisibility() && !(one.getAttribute('aria-label') || one.getAttribute('aria-labelledby') || one.textContent.trim()))
        .map((one) => one.outerHTML);
    """)
    assert not nameless, nameless
    # the first piece: reached, opened and closed by keys, and the focus is where it was
    browser.run("document.querySelector('.spots button').focus()")
    name = browser.run("return document.activeElement.getAttribute('aria-label')")
    browser.type(ENTER)
    browser.until("return !document.getElementById('piece').hidden && document.querySelectorAll('#piece table').length >= 2",
                  what="the piece")
    head = browser.run("return document.getElementById('piece-head').textContent")
    assert name.startswith(head), (name, head)
    browser.until("return document.querySelector('.spots button')?.parentElement.parentElement.querySelector('img.new')",
                  what="the plate")
    browser.shot(shots, "piece")
    browser.type(ESCAPE)
    assert browser.run("return document.getElementById('piece').hidden && document.activeElement.getAttribute('aria-label')") == name
    print(f"  by keyboard: focus seen, true size, pages, and {head} opened and closed")


def look_at_a_piece(browser, place, design):
    """What is told of a piece by a click is what numbers.json has."""
    numbers = json.loads((place / "build-output" / design / "numbers.json").read_text())
    browser.run("document.querySelector('.spots button').scrollIntoView({block: 'center', behavior: 'instant'})")
    browser.click(".spots button")
    browser.until("return !document.getElementById('piece').hidden", what="the piece")
    key = browser.run("return document.querySelector('.spots button[aria-pressed=true]').dataset.piece")
    # it is marked by its own cut lines, which fill the box of its place
    mark = browser.run("""
      const path = document.querySelector('.spots button[aria-pressed=true] path');
      const [line, place] = [path.getBBox(), path.ownerSVGElement.viewBox.baseVal];
      return [getComputedStyle(path).stroke, line.width / place.width, line.height / place.height, path.getTotalLength()];
    """)
    assert mark[0] == "rgb(142, 42, 30)" and mark[3] > 0, mark
    assert all(abs(share - 1) < 0.02 for share in mark[1:3]), mark
    text = browser.run("return document.getElementById('piece-body').textContent")
    for size in numbers["sizes"].values():
        for edge, figures in size["pieces"].get(key, {"edges": {}})["edges"].items():
            assert edge in text, f"{key}: {edge} is not told"
    lengths = [figures["length_mm"] for size in numbers["sizes"].values()
               for figures in size["pieces"].get(key, {"edges": {}})["edges"].values()]
    # printed to a tenth of a millimetre, from 100 mm on in centimetres
    forms = [{f"{mm:.1f}", f"{mm:.0f}", f"{mm / 10:.1f}", f"{mm / 10:.0f}", f"{mm / 10:.2f}"} for mm in lengths]
    found = [any(form in text for form in one) for one in forms]
    assert any(found), (lengths, text)
    browser.type(ESCAPE)
    print(f"  the edges of {key} are told by a click, as in numbers.json")


def contrast(browser):
    """The least contrast of text against its ground (WCAG 2.1, 1.4.3), on the desk itself."""
    return browser.run("""
      const rgb = (text) => (text.match(/[\\d.]+/g) ?? []).map(Number);
      const part = (c) => { c /= 255; return c <= 0.03928 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4; };
      const light = ([r, g, b]) => 0.2126 * part(r) + 0.7152 * part(g) + 0.0722 * part(b);
      const ground = (one) => { for (; one; one = one.parentElement) { const c = rgb(getComputedStyle(one).backgroundColor);
        if (c.length === 3 || c[3] === 1) return c; } return [255, 255, 255]; };
      let least = 99, where = '';
      for (const one of document.querySelectorAll('header *, nav *, aside *')) {
        if (!one.checkVisibility() || one.disabled || one.closest('.here') || ![...one.childNodes].some((n) => n.nodeType === 3 && n.data.trim())) continue;
        const [a, b] = [light(rgb(getComputedStyle(one).color)), light(ground(one))].sort((x, y) => y - x);
        const found = (a + 0.05) / (b + 0.05);
        if (found < least) { least = found; where = one.outerHTML.slice(0, 80); }
      }
      return [least, where];
    """)


def look_in_the_dark(program, address, shots, size):
    browser = Browser(dark=True, size=size)
    try:
        browser.ask("POST", "/url", {"url": address})
        browser.until(SHOWN, what="the pages in the dark")
        browser.until(SETTLED)
        ground = browser.run("return getComputedStyle(document.body).backgroundColor")
        assert max(int(part) for part in ground.strip("rgb()").split(",")) < 64, ground
        paper = browser.run("return getComputedStyle(document.querySelector('.sheet')).backgroundColor")
        assert paper == "rgb(255, 255, 255)", paper
        least, where = contrast(browser)
        assert least >= 4.5, (least, where)
        wide = browser.run("return [document.documentElement.scrollWidth, innerWidth]")
        assert wide[0] <= wide[1], wide
        time.sleep(0.3)
        browser.shot(shots, f"dark-{size[0]}")
        print(f"  dark at {size[0]} px: paper white, least contrast {least:.1f}")
    finally:
        browser.close()


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
            look_at_changes(browser, program, place, design, (file, right, others), shots)
            unit = other.replace(" mm", "", 1)
            look_at_an_error(browser, file, other, unit, shots)
            browser.until(SETTLED)
            look_by_keyboard(browser, shots)
            look_at_a_piece(browser, place, design)
            least, where = contrast(browser)
            assert least >= 4.5, (least, where)
            errors = [entry for entry in browser.log("browser") if entry["level"] == "SEVERE"]
            assert not errors, errors
            for size in ((1600, 1000), (1000, 800)):
                look_in_the_dark(program, watch.address, shots, size)
        finally:
            browser.close()
            watch.close()
    print("live pages: all as it should be")


if __name__ == "__main__":
    main()
