"""Headless Chromium, driven through chromedriver's plain HTTP (W3C WebDriver, Recommendation of 5 June 2018)."""

import base64
import contextlib
import json
import socket
import subprocess
import time
import urllib.request

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
