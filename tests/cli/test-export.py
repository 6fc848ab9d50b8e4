# SPDX-License-Identifier: GPL-3.0-or-later
"""What the controller gets."""
import pathlib
import subprocess

from command import FOLDER, axis, machine, main, run, written

FORMS = ("profile", "header", "table")


def rig():
    return written("export.trammel", machine(axes=[axis("X", counts={"value": 80.337, "u": 0.025}), axis("Y")]))


def test_every_form_holds_the_values_in_force():
    for form in FORMS:
        out = run("export", rig(), "--form", form).out
        assert "80.337" in out and out.endswith("\n"), out


def test_to_a_file():
    path = rig()
    for form in FORMS:
        target = FOLDER / f"out.{form}"
        assert run("export", path, "--form", form, "--output", target).out == ""
        assert "80.337" in target.read_text()


def test_the_header_compiles():
    header = FOLDER / "counts.h"
    run("export", rig(), "--form", "header", "--output", header)
    source = pathlib.Path(written("counts.c", '#include "counts.h"\nint main (void) { return 0; }\n'))
    subprocess.run(["cc", "-std=c99", "-pedantic", "-Wall", "-Wextra", "-Werror", "-fsyntax-only", source], check=True,
                   cwd=FOLDER)


def test_json():
    found = run("export", rig(), "--form", "table", "--json").json()
    assert list(found) == ["form", "file_name", "text"] and "80.337" in found["text"]


def test_where_nothing_can_be_written():
    done = run("export", rig(), "--form", "table", "--output", FOLDER / "no" / "folder.txt", status=1)
    assert "folder.txt" in done.err


main(globals())
