# SPDX-License-Identifier: GPL-3.0-or-later
"""The German translation: found in a build that is not installed, whole sentences in it, machine-readable output not."""
import os
import pathlib
import subprocess

from command import Skip, has_locale, machine, main, reading, run, written

PO = pathlib.Path(os.environ["TRAMMEL_PO"])
ROWS = [reading("travel", "X", 100, 99.6, u=0.01), reading("travel", "X", 50, 49.8, u=0.01)]


def german(*arguments):
    if not has_locale("de_DE.UTF-8"):
        raise Skip("no German locale on this machine")
    return run(*arguments, locale="de_DE.UTF-8", TRAMMEL_LOCALEDIR=str(PO)).out


def test_sentences_are_german_with_a_decimal_comma():
    text = german("adjust", written("german.trammel", machine(readings=ROWS)))
    # 99.6 and 49.8 of 100 and 50: 0.4 % short
    assert "X fährt 0,40" in text and "zu kurz" in text, text
    assert "Freiheitsgrade" in text


def test_json_is_the_same_in_every_language():
    path = written("json.trammel", machine(readings=ROWS))
    assert german("adjust", path, "--json") == run("adjust", path, "--json").out


def test_every_format_fits():
    source = pathlib.Path(os.environ["TRAMMEL_TESTS"]).parent / "po" / "de.po"
    done = subprocess.run(["msgfmt", "-c", "-o", os.devnull, source], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr


main(globals())
