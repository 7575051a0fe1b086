"""The program at work: watching designs, building one from nothing, and a designer who saves a file."""

import json
import os
import shutil
import signal
import subprocess
import time

ENVIRONMENT = {**os.environ, "SOURCE_DATE_EPOCH": "1790000000"}


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
