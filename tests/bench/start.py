# SPDX-License-Identifier: GPL-3.0-or-later
"""How long the command takes to start, beside a program that does nothing, in turns in one run.

    /usr/bin/python3 tests/bench/start.py build/app/cli/trammel-cli data/heron.trammel
"""
import statistics
import subprocess
import sys
import time

command, machine = sys.argv[1:3]
programs = {
    "true": ["/bin/true"],
    "trammel-cli --version": [command, "--version"],
    "trammel-cli ratio": [command, "ratio", machine],
    "trammel-cli adjust": [command, "adjust", machine],
}
times = {name: [] for name in programs}
for _ in range(100):
    for name, arguments in programs.items():
        start = time.perf_counter()
        subprocess.run(arguments, stdout=subprocess.DEVNULL, check=True)
        times[name].append(time.perf_counter() - start)
nothing = statistics.median(times["true"])
for name, values in times.items():
    median = statistics.median(values)
    print(f"{name:24} {median * 1000:6.2f} ms   {median / nothing:5.2f} × nothing, {1000 * (median - nothing):6.2f} ms more")
