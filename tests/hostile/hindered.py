"""What a disk and other programs put in pressfoot's way: no room, no right to write, something else where a
file or a folder should go, somebody else who writes there. Each way gives its name and what was wrong.
Standard library only. See `killed.py`."""

import fcntl
import os
import resource
import shutil
import signal
import subprocess
import time

from ground import files, shown

NOBODY = 65534


def refused(ground, run, words, results=None):
    """What is wrong with a refusal: it should be a fault with these words, all old files whole, nothing left."""
    wrong = []
    if run.code != 2:
        wrong.append(f"ended with {run.code}: {run.last()}")
    if run.panicked():
        wrong.append(f"panicked: {run.last()}")
    fault = run.fault()
    if not any(word in fault for word in words):
        wrong.append(f"the message has none of {words}: ‘{fault or run.last()}’")
    told, mixed, _ = ground.torn(results)
    wrong += told
    if mixed:
        wrong.append("old and new files are mixed")
    here, old = shown(files(results or ground.results)), shown(ground.whole["old"])
    changed = sorted(name for name in old if here.get(name) != old[name])
    if changed:
        wrong.append(f"no longer the old files: {', '.join(changed)}")
    wrong += [f"{stray} is left" for stray in ground.strays()]
    return wrong


def mended(ground, wrong, **more):
    """The build once the hindrance is gone."""
    run = ground.build(**more)
    if run.code != 0:
        wrong.append(f"once it is out of the way, the build ended with {run.code}: {run.last()}")
    wrong += [f"once it is out of the way, {what}" for what in ground.whole_again("new")]
    wrong += [f"once it is out of the way, {stray} is left" for stray in ground.strays()]
    return wrong


def mount(place, size):
    """A small disk at `place`; whether there is one."""
    place.mkdir(parents=True, exist_ok=True)
    words = ["mount", "-t", "tmpfs", "-o", f"size={size},mode=755", "tmpfs", str(place)]
    return os.geteuid() == 0 and subprocess.run(words, capture_output=True).returncode == 0


def full_disk(ground):
    """A disk that has room for none of the new files, for some, for most."""
    wrong = []
    spare = (24 << 10,) if ground.short else (0, 24 << 10, 300 << 10)
    size = sum(4096 + (len(data) + 4095 & ~4095) for data in files(ground.root / "first").values())
    for left in spare:
        shutil.rmtree(ground.out, ignore_errors=True)
        if not mount(ground.out, size + left):
            ground.out.rmdir()
            return "disk full (not tried: only root may make a disk)", []
        try:
            shutil.copytree(ground.root / "first", ground.out, symlinks=True, dirs_exist_ok=True)
            ground.state("new")
            # whatever is left beyond the intended bytes is taken by somebody else
            stat = os.statvfs(ground.out)
            beyond = stat.f_bavail * stat.f_bsize - left
            if beyond > 0:
                (ground.out / "others").write_bytes(b"\0" * beyond)
            run = ground.build()
            wrong += [f"{left >> 10} kB left: {what}" for what in refused(ground, run, ["space", "room"])]
            (ground.out / "others").unlink(missing_ok=True)
            subprocess.run(["mount", "-o", "remount,size=100m", str(ground.out)], check=True)
            wrong = mended(ground, wrong)
        finally:
            subprocess.run(["umount", str(ground.out)], check=True)
    return "disk full", wrong


def largest_file(ground):
    """No file may be larger than 60 kB (RLIMIT_FSIZE, with the signal of it not heard)."""
    ground.again()

    def limit():
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (60 << 10, 60 << 10))

    # the pipe that takes what is said has no size
    run = ground.build(preexec_fn=limit)
    return "no file above 60 kB", mended(ground, refused(ground, run, ["large", "room"]))


def as_nobody(ground):
    """What starts a program without the rights of root, or nothing if nobody has them."""
    if os.geteuid() != 0:
        return ()
    for base in (ground.out, ground.designs, ground.tmp):
        for folder, _, names in os.walk(base):
            for name in ["", *names]:
                os.chown(os.path.join(folder, name), NOBODY, NOBODY, follow_symlinks=False)
    for folder in (ground.root, ground.root.parent):
        folder.chmod(0o755)
    return ("setpriv", f"--reuid={NOBODY}", f"--regid={NOBODY}", "--clear-groups")


def may_run(ground, before):
    """Whether somebody without rights can reach the program at all; `setpriv` itself has root's until it ends."""
    words = [*before, "sh", "-c", 'exec "$0" --version', ground.program]
    told = subprocess.run(words, capture_output=True, cwd="/")
    return told.returncode == 0


def no_right_to_write(ground):
    """The folder of results, and one inside it, may not be written to."""
    wrong = []
    for name in ("cut",) if ground.short else ("", "cut"):
        ground.again()
        before = as_nobody(ground)
        if not may_run(ground, before):
            return "no right to write (not tried: nobody cannot run the program)", []
        folder = ground.results / name
        for inner, _, _ in os.walk(folder):
            os.chmod(inner, 0o555)
        run = ground.build(before=before)
        found = refused(ground, run, ["denied", "right"])
        wrong += [f"{name or 'results'} without the right: {what}" for what in found]
        for inner, _, _ in os.walk(folder):
            os.chmod(inner, 0o755)
        wrong = mended(ground, wrong, before=before)
    return "no right to write", wrong


def files_read_only(ground):
    """Old files that may not be written to are replaced all the same: the folder may be."""
    ground.again()
    before = as_nobody(ground)
    if not may_run(ground, before):
        return "files read-only (not tried: nobody cannot run the program)", []
    for folder, _, names in os.walk(ground.results):
        for name in names:
            os.chmod(os.path.join(folder, name), 0o444)
    return "files read-only", mended(ground, [], before=before)


def something_else_there(ground):
    """A folder where a file should go, a file where a folder should go, a link that leads nowhere."""
    wrong = []

    def case(what, words, put, take):
        ground.again()
        put()
        run = ground.build()
        if run.code != 2 or run.panicked() or not any(word in run.fault() for word in words):
            wrong.append(f"{what}: ended with {run.code}, and the message has none of {words}: {run.last()}")
        wrong.extend(f"{what}: {stray} is left" for stray in ground.strays())
        take()
        here, first = files(ground.results), ground.whole["old"]
        changed = sorted(n for n in set(here) | set(first) if here.get(n) != first.get(n))
        wrong.extend(f"{what}: {name} is not as it was" for name in changed)
        wrong.extend(f"{what}: {one}" for one in mended(ground, []))

    aside = ground.root / "aside"

    def instead_of(path, put):
        """Puts something in the place of `path`; and what takes it away again."""

        def place():
            path.rename(aside)
            put(path)

        def take():
            if path.is_symlink() or path.is_file():
                path.unlink()
            else:
                shutil.rmtree(path)
            aside.rename(path)

        return place, take

    def folder(path):
        (path / "inside").mkdir(parents=True)

    def file(path):
        path.write_bytes(b"in the way")

    def link(path):
        path.symlink_to(ground.root / "nowhere" / "at all")

    pdf, cut = ground.results / f"{ground.key}-a4.pdf", ground.results / "cut"
    case("a folder for the booklet", ["folder"], *instead_of(pdf, folder))
    case("a folder for the list", ["folder"], *instead_of(ground.results / "written.json", folder))
    case("a file for the folder of cut files", ["folder"], *instead_of(cut, file))
    case("a file for the folder of results", ["folder"], *instead_of(ground.results, file))
    case("a link to nowhere for the folder of results", ["link"], *instead_of(ground.results, link))
    case("a file for the folder of all results", ["folder"], *instead_of(ground.out, file))
    case("a link to nowhere for the folder of all results", ["link"], *instead_of(ground.out, link))
    # a kept layout is no loss
    ground.again()
    shutil.rmtree(ground.out / ".layouts")
    (ground.out / ".layouts").write_bytes(b"in the way")
    run = ground.build()
    wrong.extend(f"a file for the layouts: {what}" for what in ground.whole_again("new"))
    if run.code != 0:
        wrong.append(f"a file for the layouts: ended with {run.code}: {run.last()}")
    # a link in the place of a file is replaced, never followed
    ground.again()
    pdf.unlink()
    pdf.symlink_to(ground.root / "elsewhere.pdf")
    mended(ground, wrong)
    if (ground.root / "elsewhere.pdf").exists():
        wrong.append("a link was followed out of the results")
    return "something else there", wrong


def held_for_a_while(ground):
    """Somebody else writes to the results: the build waits, and is told of no fault."""
    ground.again()
    holder = os.open(ground.results, os.O_RDONLY)
    fcntl.flock(holder, fcntl.LOCK_EX)
    process = ground.start("build", ground.key)
    time.sleep(4)
    wrong = []
    if process.poll() is not None:
        wrong.append("did not wait")
    if files(ground.results) != ground.whole["old"]:
        wrong.append("wrote while another held the folder")
    os.close(holder)
    run = ground.ended(process)
    if run.code != 0:
        wrong.append(f"ended with {run.code}: {run.last()}")
    return "held for a while", wrong + ground.whole_again("new") + ground.strays()


def held_for_good(ground):
    """Somebody else holds the results and does not let go: a fault after a while."""
    ground.again()
    holder = os.open(ground.results, os.O_RDONLY)
    fcntl.flock(holder, fcntl.LOCK_EX)
    run = ground.build()
    wrong = refused(ground, run, ["another"])
    os.close(holder)
    return "held for good", mended(ground, wrong)


def two_at_once(ground):
    """Two and three builds of a design, in two states of it, into one folder at once."""
    wrong = []
    other = ground.root / "second" / ground.key
    shutil.copytree(ground.designs, other.parent, dirs_exist_ok=True)
    ground.state("old", other)
    for number in range(1 if ground.short else 4):
        ground.again()
        runs = [ground.start("build", ground.key, "--anew"), ground.start("build", other, "--anew")]
        if number % 2 == 0:
            runs.append(ground.start("build", ground.key, "--anew"))
        ended = [ground.ended(process) for process in runs]
        found, mixed, _ = ground.torn()
        wrong += found
        if mixed:
            wrong.append("old and new files are mixed")
        wrong += [f"ended with {run.code}: {run.last()}" for run in ended if run.code != 0]
        wrong += [f"{stray} is left" for stray in ground.strays()]
        # what is kept of a build is of the files that stand there: the next one is right whatever came last
        wrong += [f"afterwards {what}" for what in mended(ground, [])]
    shutil.rmtree(other.parent)
    return "two builds at once", wrong


def two_designs_at_once(ground):
    """Two designs built into one folder at once, and each of them twice."""
    other = ground.designs / "another"
    shutil.copytree(ground.design, other)
    shutil.rmtree(ground.out, ignore_errors=True)
    ground.state("new")
    ended = [ground.ended(p) for p in [ground.start("build", d) for d in (ground.key, "another") * 2]]
    wrong = [f"ended with {run.code}: {run.last()}" for run in ended if run.code != 0]
    wrong += ground.whole_again("new")
    # titles are alike, so each file but the reports is that of the first under another name
    pdfs = [ground.out / key / f"{key}.dxf" for key in (ground.key, "another")]
    if not all(pdf.is_file() for pdf in pdfs):
        wrong.append("one design has no results")
    wrong += [f"{s} is left" for s in ground.strays() if not s.startswith("out/.layouts/") or "/.pressfoot-" in s]
    shutil.rmtree(other)
    return "two designs at once", wrong


def two_releases_at_once(ground):
    """Of two releases at once one is kept, and the other is told."""
    shutil.rmtree(ground.out, ignore_errors=True)
    shutil.rmtree(ground.design / "editions", ignore_errors=True)
    ground.state("old")
    wrong = []
    numbers = ["1.0.0", "1.1.0", "1.0.0"]
    runs = [ground.start("release", ground.key, "--edition", n, "--note", "The first edition.") for n in numbers]
    ended = [ground.ended(process) for process in runs]
    if sorted(run.code for run in ended) != [0, 1, 1]:
        wrong.append(f"ended with {[run.code for run in ended]}: {ended[0].last()}")
    for run in ended:
        if run.code == 1 and not {"edition-meanwhile", "edition-same", "edition-not-later"} & set(run.codes()):
            wrong.append(f"the other is not told why: {run.codes()} {run.last()}")
    kept = sorted(files(ground.design / "editions"))
    if len(kept) != 1:
        wrong.append(f"kept are {kept}")
    run = ground.build()
    if run.code != 0:
        wrong.append(f"the build after it ended with {run.code}: {run.last()}")
    wrong += [f"{stray} is left" for stray in ground.strays()]
    shutil.rmtree(ground.design / "editions", ignore_errors=True)
    return "two releases at once", wrong


def watch_and_build(ground, sign=signal.SIGINT):
    """A design that is watched, saved and built by another command at once; then the watch is ended while it works."""
    ground.again()
    watch = ground.start("watch", ground.key, "--port", "0")
    wrong = []
    try:
        until = time.monotonic() + 120
        while files(ground.results).get("numbers.json") != ground.whole["new"]["numbers.json"]:
            if watch.poll() is not None or time.monotonic() > until:
                break
            time.sleep(0.05)
        for state in ("old", "new"):
            ground.state(state)
            run = ground.build()
            if run.code != 0:
                wrong.append(f"the build ended with {run.code}: {run.last()}")
            found, _, _ = ground.torn()
            wrong += found
        ground.state("old")
        time.sleep(1.0)
    finally:
        watch.send_signal(sign)
        run = ground.ended(watch)
    if run.code != 0 or "panicked" in run.said:
        wrong.append(f"the watch ended with {run.code}: {run.last()}")
    found, mixed, _ = ground.torn()
    wrong += found
    if mixed:
        wrong.append("old and new files are mixed")
    wrong += [f"{stray} is left" for stray in ground.strays()]
    ground.state("new")
    return "watch and build", mended(ground, wrong)


QUICK = [full_disk, largest_file, no_right_to_write, held_for_a_while, two_at_once, two_releases_at_once]
WAYS = [
    full_disk, largest_file, no_right_to_write, files_read_only, something_else_there, held_for_a_while,
    held_for_good, two_at_once, two_designs_at_once, two_releases_at_once, watch_and_build,
]
