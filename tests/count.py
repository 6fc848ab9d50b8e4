# SPDX-License-Identifier: GPL-3.0-or-later
"""Counts the cases of the last `meson test` in a build folder: prints "PASSED FAILED".

A program that speaks TAP or exits by itself counts each of its cases; a program that ended badly without a failed
case of its own counts as one failure, and so does a run that left no results at all."""
import json
import pathlib
import sys
import xml.etree.ElementTree as tree

folder = pathlib.Path(sys.argv[1]) / "meson-logs"
cases = failures = 0
junit = folder / "testlog.junit.xml"
if not junit.exists():
    print(0, 1)
    sys.exit()
for suite in tree.parse(junit).getroot().iter("testsuite"):
    for case in suite.iter("testcase"):
        if case.find("skipped") is not None:
            continue
        cases += 1
        failures += case.find("failure") is not None or case.find("error") is not None
bad_programs = 0
for line in (folder / "testlog.json").read_text().splitlines():
    bad_programs += json.loads(line)["result"] not in ("OK", "SKIP", "EXPECTEDFAIL")
failures = max(failures, bad_programs)
print(max(cases - failures, 0), failures)
