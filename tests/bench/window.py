# SPDX-License-Identifier: GPL-3.0-or-later
"""Times the window on a display of its own: the first frame beside an empty GTK window's, in turns in one run, and one
edit to the end of its redraw with 1,000 readings and twelve gears.

    xvfb-run -a dbus-run-session -- /usr/bin/python3 tests/bench/window.py build/tests/bench/window-timing
"""
import os
import statistics
import subprocess
import sys
import tempfile
import time

program = sys.argv[1]
ROUNDS = 15
BUDGET_RATIO, BUDGET_EDIT = 1.3, 8.0

state = tempfile.mkdtemp(prefix="trammel-bench-")
environment = dict(os.environ, GDK_BACKEND="x11", GSK_RENDERER="cairo", XDG_STATE_HOME=state, XDG_DATA_HOME=state)


def run(*arguments):
    result = subprocess.run([program, *arguments], env=environment, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL,
                            text=True, check=True)
    return [float(word) for word in result.stdout.split()]


frames = {"empty": [], "first": [], "whole": []}
for _ in range(ROUNDS):
    frames["empty"].append(run("empty", str(time.monotonic_ns() // 1000))[0])
    first, whole = run("trammel", str(time.monotonic_ns() // 1000))
    frames["first"].append(first)
    frames["whole"].append(whole)
empty = statistics.median(frames["empty"])
within = True
for name, what in (("empty", "empty GTK window"), ("first", "first frame"), ("whole", "frame with all it holds")):
    median = statistics.median(frames[name])
    print(f"{what:26} {median:7.1f} ms   ratio {median / empty:.2f}")
within &= statistics.median(frames["first"]) <= BUDGET_RATIO * empty

for page in ("drive", "readings", "result"):
    quickest, median, worst, change, layout, paint = run("edit", page)
    print(f"one edit, page {page:12} {median:6.2f} ms   quickest {quickest:.2f} ms, worst {worst:.2f} ms"
          f"   (of the processor: {change + layout + paint:.2f} ms,"
          f" to change {change:.2f}, lay out {layout:.2f}, paint {paint:.2f})")
    within &= median <= BUDGET_EDIT
print("within budget" if within else "budget exceeded")
sys.exit(not within)
