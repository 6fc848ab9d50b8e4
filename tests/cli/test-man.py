# SPDX-License-Identifier: GPL-3.0-or-later
"""The manual pages: no warnings, and every option that the help knows."""
import os
import pathlib
import re
import subprocess

from command import TESTS, main, run

PAGES = pathlib.Path(TESTS).parent / "data" / "man"


def shown(page):
    done = subprocess.run(["man", "--warnings", "-l", PAGES / page], capture_output=True, check=True,
                          env={**os.environ, "LC_ALL": "C.UTF-8", "MANWIDTH": "200", "MAN_KEEP_FORMATTING": ""})
    assert done.stderr == b"", done.stderr.decode()
    return re.sub(r"\x1b\[[0-9;]*m|.\x08", "", done.stdout.decode())


def test_pages_are_clean():
    for page in ("trammel.1", "trammel-cli.1"):
        text = shown(page)
        assert "CAUTIONS" in text and "burn" in text


def test_every_option_is_told():
    text = shown("trammel-cli.1").replace("‐", "-")
    verbs = re.findall(r"^  ([a-z]+)  ", run("--help").out, re.MULTILINE)
    assert {"ratio", "adjust", "piece"} <= set(verbs)
    for verb in verbs:
        options = set(re.findall(r"--[a-z][a-z-]+", run(verb, "--help").out)) - {"--help-all"}
        assert len(options) >= 3
        for option in options:
            assert option in text, (verb, option)


main(globals())
