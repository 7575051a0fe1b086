"""Kills pressfoot at random moments, and puts everything in its way that a disk can: afterwards every file is
the whole old one or the whole new one, a set that is half new says so, nothing unfinished lies about once the
next run is over, and the next build gives the bytes of one that nobody disturbed.

    python3 tests/hostile/killed.py PRESSFOOT [--moments N] [--seed N] [--keep DIR] [--short] DESIGN...

Which moments, which signals and what is done next follow from the seed and the number; how far a run has come
at a moment does not, so a finding is made again by several runs. Half of the moments are counted from when
the first file is being written. Standard library only. What only root may do (a small disk of its own) is
done in other ways by others, and said.
"""

import argparse
import os
import pathlib
import random
import shutil
import signal
import sys
import tempfile

import hindered
from ground import Ground, files, kill

SIGNALS = [signal.SIGKILL, signal.SIGTERM, signal.SIGKILL, signal.SIGKILL, signal.SIGKILL, signal.SIGINT]

# About as long as all files of a booklet take, from the first that is written beside its place, in seconds.
WRITING = 0.16

# A foot as somebody might draw it, in true size: closed, the toe up, broader in front than at the heel.
FOOT = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="80mm" height="100mm" viewBox="0 0 80 100">'
    '<path fill="none" stroke="black" d="M 40 10 C 55 10 60 28 58 42 C 56 56 52 68 51 78 C 50 88 45 92 40 92 '
    'C 34 92 29 88 28 78 C 27 68 22 56 21 42 C 20 28 26 10 40 10 Z"/></svg>'
)


def moment(dice, number, took, writing):
    """When to kill, by which signal, and whether counted from the first file that is written."""
    aimed = number % 2 == 1
    return dice.uniform(0, writing if aimed else took), SIGNALS[number // 2 % len(SIGNALS)], aimed


def gentle(sign):
    """Whether the program can hear the signal, and so leave all in order by itself."""
    return sign != signal.SIGKILL


def killed_build(ground, dice, number, took):
    """A design built, changed, built again and killed; then built once more, changed or put back."""
    ground.again()
    after, sign, aimed = moment(dice, number, took, WRITING)
    then = dice.choice(["new", "new", "old"])
    process = ground.start("build", ground.key)
    name = kill(process, after, sign, ground.results if aimed else None)
    ground.ended(process)
    wrong, mixed, unfinished = ground.torn()
    ground.mixed += mixed
    if mixed and (gentle(sign) or not unfinished):
        wrong.append("old and new files are mixed" + ("" if gentle(sign) else ", and the list does not say so"))
    if gentle(sign):
        wrong += [f"{stray} was left" for stray in ground.strays()]
    ground.state(then)
    run = ground.build()
    if run.code != 0:
        wrong.append(f"the next build ended with {run.code}: {run.last()}")
    wrong += [f"after the next build, of the {then} state, {what}" for what in ground.whole_again(then)]
    wrong += [f"after the next build {stray} is left" for stray in ground.strays()]
    return f"build, {name} after {after:.3f} s{' of writing' if aimed else ''}, then {then}", wrong


def released(ground):
    """The edition that is kept, its bytes; None if there is none, or text if there is something else."""
    kept = {name: data for name, data in files(ground.design / "editions").items() if name.endswith(".yaml")}
    return kept.get("1.0.0.yaml") if set(kept) <= {"1.0.0.yaml"} else f"editions {sorted(kept)}"


def unreleased(ground, state="old"):
    shutil.rmtree(ground.design / "editions", ignore_errors=True)
    ground.state(state)


RELEASE = ("--edition", "1.0.0", "--note", "The first edition.")


def killed_release(ground, dice, number, took):
    """A release killed: its edition is kept wholly or not at all, and can be released or built then."""
    if not hasattr(ground, "edition"):
        unreleased(ground)
        run = ground.run("release", ground.key, *RELEASE)
        built = ground.build()
        if run.code != 0 or built.code != 0:
            return "release", [f"undisturbed, it ended with {run.code}, {built.code}: {run.last()}"]
        ground.edition, ground.sold = released(ground), files(ground.results)
    unreleased(ground)
    shutil.rmtree(ground.out, ignore_errors=True)
    shutil.copytree(ground.root / "first", ground.out, symlinks=True)
    after, sign, aimed = moment(dice, number, took, WRITING)
    process = ground.start("release", ground.key, *RELEASE)
    seen = dice.choice([ground.design / "editions", ground.results]) if aimed else None
    name = kill(process, after if seen != ground.design / "editions" else after / 100, sign, seen)
    ground.ended(process)
    wrong = []
    kept = released(ground)
    if kept is None:
        run = ground.run("release", ground.key, *RELEASE)
        if run.code != 0:
            wrong.append(f"released again it ended with {run.code}: {run.last()}")
    elif kept != ground.edition:
        wrong.append("the edition is kept, but not as one that nobody disturbed")
    run = ground.build()
    if run.code != 0:
        wrong.append(f"the build after it ended with {run.code}: {run.last()}")
    if released(ground) != ground.edition:
        wrong.append("the edition is not that of an undisturbed release")
    here = files(ground.results)
    differ = [n for n in sorted(set(here) | set(ground.sold)) if here.get(n) != ground.sold.get(n)]
    wrong += [f"{name} is not that of an undisturbed release" for name in differ if name != ".made.json"]
    wrong += [f"{stray} is left" for stray in ground.strays()]
    unreleased(ground)
    return f"release, {name} after {after:.3f} s{' of writing' if aimed else ''}", wrong


def killed_new(ground, dice, number, _):
    """A beginning killed: the folder is there whole or not at all, and the same command works then."""
    words = ("new", "begun", "--start", dice.choice(["shoe", "outlines", "flat"]), "--title", "Begun")
    place = ground.designs / "begun"
    if not hasattr(ground, "begun"):
        ground.begun = {}
    if words[3] not in ground.begun:
        run = ground.run(*words)
        if run.code != 0:
            return "new", [f"undisturbed, it ended with {run.code}: {run.last()}"]
        ground.begun[words[3]] = files(place)
    shutil.rmtree(place, ignore_errors=True)
    shutil.rmtree(ground.designs / "_schema", ignore_errors=True)
    after, sign, aimed = moment(dice, number, 0.04, 0.01)
    process = ground.start(*words)
    name = kill(process, after, sign, ground.designs if aimed else None)
    ground.ended(process)
    wrong = []
    if place.exists() and files(place) != ground.begun[words[3]]:
        wrong.append("the new folder is not whole")
    if gentle(sign):
        wrong += [f"{stray} was left" for stray in ground.strays()]
    there = place.exists()
    run = ground.run(*words)
    if run.code != (2 if there else 0):
        wrong.append(f"begun again it ended with {run.code}: {run.last()}")
    if files(place) != ground.begun[words[3]]:
        wrong.append("begun again, the folder is not whole")
    # whatever is begun next clears away
    shutil.rmtree(place)
    ground.run(*words)
    wrong += [f"{stray} is left" for stray in ground.strays()]
    shutil.rmtree(place)
    shutil.rmtree(ground.designs / "_schema", ignore_errors=True)
    return f"new, {name} after {after:.4f} s{' of writing' if aimed else ''}", wrong


def killed_trace(ground, dice, number, _):
    """A tracing killed: the file of the foot is the old one or the new one."""
    feet, picture = ground.root / "traced", ground.root / "foot.svg"
    picture.write_text(FOOT)
    longer = ground.root / "longer.svg"
    longer.write_text(FOOT.replace(" 10 40 10 Z", " 8 40 8 Z").replace("M 40 10 C 55 10", "M 40 8 C 55 8"))
    words = ("trace", "--name", "foot", "--toe", "up", "--to", feet, "--replace")
    states = []
    for drawn in (longer, picture):
        shutil.rmtree(feet, ignore_errors=True)
        feet.mkdir()
        run = ground.run(words[0], drawn, *words[1:])
        if run.code != 0:
            return "trace", [f"undisturbed, it ended with {run.code}: {run.last()}"]
        states.append(files(feet))
    after, sign, aimed = moment(dice, number, 0.5, 0.02)
    process = ground.start(words[0], longer, *words[1:])
    name = kill(process, after, sign, feet if aimed else None)
    ground.ended(process)
    here, wrong = files(feet), []
    for file, data in here.items():
        if not file.startswith(".") and data not in [state.get(file) for state in states]:
            wrong.append(f"{file} is torn")
    if gentle(sign):
        wrong += [f"{name} was left" for name in here if name.startswith(".")]
    run = ground.run(words[0], longer, *words[1:])
    after_all = files(feet)
    text = after_all.get("foot.yaml")
    if run.code != 0 or text is None:
        wrong.append(f"traced again it ended with {run.code}: {run.last()}")
    wrong += [f"{name} is left" for name in after_all if name.startswith(".")]
    wrong += [f"{stray} is left" for stray in ground.strays()]
    shutil.rmtree(feet)
    return f"trace, {name} after {after:.4f} s{' of writing' if aimed else ''}", wrong


# of ten moments
KINDS = [killed_build] * 6 + [killed_release] * 2 + [killed_new, killed_trace]


def main():
    reader = argparse.ArgumentParser(description=__doc__.split("\n\n")[0])
    reader.add_argument("program")
    reader.add_argument("designs", nargs="+", metavar="DESIGN")
    reader.add_argument("--moments", type=int, default=200)
    reader.add_argument("--first", type=int, default=0)
    reader.add_argument("--seed", default="1")
    reader.add_argument("--keep", help="keep the ground of the first finding here")
    reader.add_argument("--short", action="store_true", help="of what is put in the way, only what is quick")
    reader.add_argument("--only", help="only what has this word in its name")
    wanted = reader.parse_args()
    found = done = mixed = 0

    def tell(what, wrong, ground):
        nonlocal found, done
        done += 1
        found += bool(wrong)
        for one in wrong:
            print(f"{ground.key}, {what}: {one}", flush=True)
        if wrong and wanted.keep and not pathlib.Path(wanted.keep).exists():
            shutil.copytree(ground.root, wanted.keep, symlinks=True)

    with tempfile.TemporaryDirectory(prefix="pressfoot-killed-") as place:
        os.chmod(place, 0o755)
        # a copy that somebody without rights reaches too
        program = shutil.copy2(wanted.program, pathlib.Path(place) / "pressfoot")
        for index, design in enumerate(wanted.designs):
            ground = Ground(program, design, pathlib.Path(place) / str(index))
            ground.short = wanted.short
            took = ground.prepare()
            share = range(wanted.first + index, wanted.first + wanted.moments, len(wanted.designs))
            for number in share:
                dice = random.Random(f"{wanted.seed} {number}")
                kind = dice.choice(KINDS)
                if wanted.only and wanted.only not in kind.__name__:
                    continue
                what, wrong = kind(ground, dice, number, took)
                tell(f"{number}: {what}", wrong, ground)
            mixed += ground.mixed
            ways = hindered.QUICK if wanted.short else hindered.WAYS
            for way in ways if index == 0 else []:
                if wanted.only and wanted.only not in way.__name__:
                    continue
                what, wrong = way(ground)
                tell(what, wrong, ground)
    print(f"{done} runs killed or hindered, {mixed} while files were half in place; {found} findings")
    sys.exit(1 if found else 0)


if __name__ == "__main__":
    main()
