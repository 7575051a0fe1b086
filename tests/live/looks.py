"""What a person would see on the live pages, looked at piece by piece."""

import json
import time

from live.browser import ENTER, ESCAPE, TAB, Browser
from live.program import cold_build, saved

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
