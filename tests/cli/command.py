# SPDX-License-Identifier: GPL-3.0-or-later
"""Runs the command, and reports in TAP."""
import copy
import json
import os
import pathlib
import subprocess
import sys
import tempfile
import traceback

CLI = os.environ["TRAMMEL_CLI"]
TESTS = pathlib.Path(os.environ["TRAMMEL_TESTS"])
_FOLDER = tempfile.TemporaryDirectory(prefix="trammel-test-")  # gone when the test ends
FOLDER = pathlib.Path(_FOLDER.name)

STEPPER = {"type": "stepper", "full_steps": 200, "microsteps": 16}
BELT_80 = {"type": "belt", "teeth": 20, "pitch": "2 mm"}


def axis(letter, kind="linear", output=None, stages=(), motor=None, travel="200 mm", counts=None):
    return {"letter": letter, "kind": kind, "travel": travel, "motor": motor or STEPPER, "stages": list(stages),
            "output": output or BELT_80, "counts_per_unit": counts}


def machine(**changes):
    """A machine of X, Y and Z at 80 counts per mm, and E; @changes replace members."""
    value = {
        "format": "trammel-machine", "version": 1, "name": "Test rig", "note": "", "display_unit": "mm",
        "axes": [axis("X"), axis("Y"), axis("Z"),
                 axis("E", "feed", {"type": "roller", "diameter": "8 mm"}, travel=None)],
        "instruments": [{"name": "caliper", "u": "0.03 mm"}], "stated": {}, "readings": [], "log": [],
    }
    for member in value["axes"]:
        if member["travel"] is None:
            del member["travel"]
    value.update(copy.deepcopy(changes))
    return value


def reading(kind, along, nominal, measured, **more):
    return {"kind": kind, "along": along, "nominal": nominal, "measured": measured, **more}


def written(name, content):
    """@content in a file of the test's own folder: bytes, text, or a value as JSON."""
    path = FOLDER / name
    if isinstance(content, bytes):
        path.write_bytes(content)
    else:
        path.write_text(content if isinstance(content, str) else json.dumps(content), encoding="utf-8")
    return str(path)


class Run:
    def __init__(self, arguments, environment):
        done = subprocess.run([CLI, *arguments], capture_output=True, env={**os.environ, **environment}, check=False,
                              timeout=120)
        self.status, self.raw = done.returncode, done.stdout
        self.out = done.stdout.decode("utf-8", "replace")
        self.err = done.stderr.decode("utf-8", "replace")

    def json(self):
        """The one object on standard output. NaN and infinity are not JSON."""
        def no_constant(name):
            raise ValueError(name)

        return json.loads(self.out, parse_constant=no_constant)


def run(*arguments, locale="C.UTF-8", status=0, **environment):
    done = Run([str(a) for a in arguments], {"LC_ALL": locale, "LANGUAGE": "", **environment})
    assert done.status == status, f"{arguments}: status {done.status}, not {status}\n{done.out}{done.err}"
    if status:
        assert done.err.startswith("trammel-cli: "), done.err
    else:
        assert done.err == "", done.err
    return done


def close(found, wanted, relative=1e-12, absolute=0.0):
    assert abs(found - wanted) <= max(relative * abs(wanted), absolute), f"found {found!r}, wanted {wanted!r}"


def has_locale(name):
    """Whether the C library knows the locale @name."""
    known = subprocess.run(["locale", "-a"], capture_output=True, text=True, check=False).stdout.lower().split()
    return name.lower().replace("-", "") in [line.replace("-", "") for line in known]


class Skip(Exception):
    """The test cannot be made here."""


def main(names):
    """Runs every test_… of @names."""
    tests = [(name, value) for name, value in names.items() if name.startswith("test_")]
    failed = 0
    print(f"1..{len(tests)}")
    for number, (name, test) in enumerate(tests, 1):
        try:
            test()
            print(f"ok {number} - {name}")
        except Skip as reason:
            print(f"ok {number} - {name} # SKIP {reason}")
        except Exception:  # pylint: disable=broad-except
            failed += 1
            print(f"not ok {number} - {name}")
            print("\n".join("# " + line for line in traceback.format_exc().splitlines()))
    sys.exit(1 if failed else 0)
