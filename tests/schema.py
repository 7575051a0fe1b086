"""Holds the JSON Schema of the files of a design against designs, by a reader and a validator that pressfoot
does not share (PyPI ruamel.yaml, jsonschema): what pressfoot reads without an error is valid, and of what it
refuses for a key or a word that it does not know nothing is valid.

python schema.py PROGRAM [PROJECT]
"""

import io
import json
import subprocess
import sys
import tempfile
from pathlib import Path

from jsonschema import Draft202012Validator
from ruamel.yaml import YAML

PROGRAM = sys.argv[1]
PROJECT = Path(sys.argv[2]) if len(sys.argv) > 2 else Path(__file__).resolve().parent.parent

# Of these records the wrong key stands where the schema leaves keys to the designer, or in another file.
ELSEWHERE = set()


def schemas():
    """The schemas by name, as the program writes them."""
    with tempfile.TemporaryDirectory() as folder:
        subprocess.run([PROGRAM, "schema", "--to", folder], check=True, stdout=subprocess.DEVNULL)
        found = {path.stem: json.loads(path.read_text()) for path in Path(folder).glob("*.json")}
    for schema in found.values():
        Draft202012Validator.check_schema(schema)
    return {name: Draft202012Validator(schema) for name, schema in found.items()}


def plain(value):
    """Days as they are written: JSON has none."""
    if isinstance(value, dict):
        return {str(key): plain(below) for key, below in value.items()}
    if isinstance(value, list):
        return [plain(item) for item in value]
    return value if isinstance(value, (str, int, float, bool, type(None))) else str(value)


def read(text):
    yaml = YAML(typ="safe", pure=True)
    yaml.version = (1, 2)
    return plain(yaml.load(io.StringIO(text)))


def files(design):
    """Files of a design with the names of their schemas."""
    yield design / "design.yaml", "design"
    for path in sorted(design.glob("design.*.yaml")):
        yield path, "translation"
    for path in sorted(design.glob("feet/*.yaml")):
        yield path, "foot"
    for path in sorted(design.glob("booklet*/*.md")):
        yield path, "chapter"


def errors(path, validator):
    text = path.read_text()
    if path.suffix == ".md":
        text = text.split("---\n")[1]
    found = sorted(validator.iter_errors(read(text)), key=lambda error: list(map(str, error.path)))
    return [f"{'/'.join(map(str, error.path))}: {error.message[:160]}" for error in found]


def main():
    known = schemas()
    good = [path.parent for path in PROJECT.glob("designs/*/design.yaml")]
    good += [path.parent for path in PROJECT.glob("tests/faults/good/*/design.yaml")]
    good += [path.parent for path in PROJECT.glob("tests/sound/*/design.yaml")]
    good += [path.parent for path in PROJECT.glob("templates/starters/*/design.yaml")]
    wrong, valid, refused = [], 0, 0
    for path, name in (file for design in sorted(good) for file in files(design)):
        found = errors(path, known[name])
        wrong += [f"{path.relative_to(PROJECT)} {error}" for error in found]
        valid += not found
    for record in sorted(PROJECT.glob("tests/broken/*/expected.txt")):
        said = record.read_text()
        told = [line for line in said.splitlines() if line.startswith(("error unknown-key", "error missing-key"))]
        if not told or record.parent.name in ELSEWHERE:
            continue
        design = next(record.parent.glob("*/design.yaml")).parent
        try:
            found = [e for path, name in files(design) for e in errors(path, known[name])]
        except Exception as error:  # what is no YAML is refused too
            found = [str(error)]
        if found:
            refused += 1
        else:
            wrong.append(f"{record.parent.name}: refused by pressfoot and valid by the schema")
    print(*wrong, sep="\n")
    print(f"schema: {valid} files valid, {refused} records refused, {len(wrong)} wrong")
    sys.exit(bool(wrong) or valid < 40 or refused < 3)


main()
