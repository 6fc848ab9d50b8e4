# SPDX-License-Identifier: GPL-3.0-or-later
"""test-schema.py WRITE-SAMPLES: the schema in data/ against an independent validator: it takes the demo and all that
the program writes, names every member that the program knows, and refuses the bad files whose fault it can see."""
import json
import os
import pathlib
import subprocess
import sys
import tempfile
import warnings

warnings.simplefilter("ignore")
import jsonschema  # noqa: E402

TESTS = pathlib.Path(os.environ["TRAMMEL_TESTS"])
DATA = pathlib.Path(os.environ["TRAMMEL_DATA"])
schema = json.loads((DATA / "machine.schema.json").read_text(encoding="utf-8"))
jsonschema.Draft202012Validator.check_schema(schema)
validator = jsonschema.Draft202012Validator(schema)
cases = []


def faults(document):
    return [f"{'.'.join(map(str, e.absolute_path))}: {e.message[:200]}" for e in validator.iter_errors(document)]


def load(path):
    return json.loads(path.read_text(encoding="utf-8-sig"))


def case(name, found):
    cases.append(not found)
    print("not ok" if found else "ok", len(cases), "-", name)
    for line in found:
        print("#", line)


case("the demo", faults(load(DATA / "heron.trammel")))
for path in sorted((TESTS / "corpus/machine/good").iterdir()):
    case(f"good file {path.name}", faults(load(path)))

with tempfile.TemporaryDirectory() as folder:
    subprocess.run([sys.argv[1], folder], check=True)
    samples = sorted(pathlib.Path(folder).glob("*.trammel"))
    case("there is a sample of every kind", [] if len(samples) >= 36 else [f"{len(samples)} samples"])
    for path in samples:
        case(f"sample {path.name}", faults(load(path)))
    kinds = load(pathlib.Path(folder) / "kinds.json")


def members(definition, kind):
    named = set(definition["properties"])
    for branch in definition.get("oneOf", []):
        of = branch["properties"]["type"]
        if kind in of.get("enum", [of.get("const")]):
            named |= set(branch["properties"])
    return named


for role, tables in kinds.items():
    definition = schema["$defs"][role]
    for kind, keys in tables.items():
        missing = sorted(set(keys) - members(definition, kind))
        case(f"every member of {role} {kind} is described", [f"{key} is not" for key in missing])

wrong = []
n_refused = 0
for line in (TESTS / "corpus/machine/bad.list").read_text(encoding="utf-8").splitlines():
    if line.startswith("#"):
        continue
    name, verdict = line.split("\t")[:2]
    if verdict == "-":
        continue
    valid = validator.is_valid(load(TESTS / "corpus/machine/bad" / name))
    n_refused += not valid
    if valid != (verdict == "valid"):
        wrong.append(f"{name}: the schema {'takes' if valid else 'refuses'} it")
case(f"bad files ({n_refused} of them)", wrong if n_refused > 80 else wrong + ["too few are refused"])

print(f"1..{len(cases)}")
sys.exit(0 if all(cases) else 1)
