# SPDX-License-Identifier: GPL-3.0-or-later
"""Times adjustments of 100 and of 1,000,000 position readings against numpy's lstsq and R's lm.fit on the same arrays, in
one run, and prints the ratios. Ends with 1 when a budget is exceeded.
   adjustment.py TIMING-PROGRAM"""
import json
import pathlib
import shutil
import subprocess
import sys
import tempfile
import time

import numpy as np

BUDGETS = {100: 0.002, 1_000_000: 0.5}
BUDGET_KILOBYTES = 64 * 1024
REPEATS = {100: 200, 1_000_000: 5}

R_SCRIPT = """
arguments <- commandArgs(trailingOnly = TRUE)
n <- as.integer(arguments[2]); repeats <- as.integer(arguments[3])
values <- readBin(arguments[1], "double", 2 * n)
x <- cbind(1, values[1:n]); y <- values[(n + 1):(2 * n)]
for (i in 1:3) {
  start <- proc.time()[["elapsed"]]
  for (k in 1:repeats) fit <- lm.fit(x, y)
  cat(sprintf("%.9f %.17g\\n", (proc.time()[["elapsed"]] - start) / repeats, fit$coefficients[2]))
}
"""


def time_numpy(target, measured, repeats):
    design = np.column_stack([np.ones(len(target)), target])
    times = []
    for _ in range(repeats):
        start = time.perf_counter()
        solution = np.linalg.lstsq(design, measured, rcond=None)[0]
        times.append(time.perf_counter() - start)
    return min(times), solution[1]


def time_r(path, n, repeats):
    if not shutil.which("Rscript"):
        return None
    done = subprocess.run(["Rscript", "-e", R_SCRIPT, str(path), str(n), str(repeats)], capture_output=True, text=True,
                          check=True)
    rows = [line.split() for line in done.stdout.splitlines()]
    return min(float(row[0]) for row in rows), float(rows[0][1])


def main():
    program = sys.argv[1]
    exceeded = False
    rng = np.random.default_rng(3)
    with tempfile.TemporaryDirectory() as folder:
        for n, budget in BUDGETS.items():
            target = np.round(rng.uniform(0, 1000, n), 3)
            measured = np.round(0.3 + 1.002 * target + rng.normal(0, 0.05, n), 4)
            table = pathlib.Path(folder) / "readings.csv"
            np.savetxt(table, np.column_stack([target, measured]), "position,X,%.3f,%.4f",
                       header="kind,along,nominal,measured", comments="")
            arrays = pathlib.Path(folder) / "arrays.bin"
            np.concatenate([target, measured]).tofile(arrays)

            done = subprocess.run([program, str(table), str(REPEATS[n])], capture_output=True, text=True, check=True)
            found = json.loads(done.stdout)
            ours = min(found["adjust"])
            print(f"{n} position readings: read from CSV in {found['load'] * 1e3:.1f} ms; adjusted in {ours * 1e3:.3f} ms "
                  f"(first {found['adjust'][0] * 1e3:.3f}), memory {found['kilobytes'] / 1024:.1f} MB beyond the input")
            exceeded |= found["adjust"][0] > budget or (n > 100 and found["kilobytes"] > BUDGET_KILOBYTES)
            numpy_time, numpy_slope = time_numpy(target, measured, REPEATS[n])
            assert abs(found["scale"] + 1 - numpy_slope) < 1e-10
            print(f"  numpy lstsq {numpy_time * 1e3:.3f} ms: ratio {ours / numpy_time:.2f}")
            r = time_r(arrays, n, REPEATS[n])
            if r:
                assert abs(found["scale"] + 1 - r[1]) < 1e-10
                print(f"  R lm.fit    {r[0] * 1e3:.3f} ms: ratio {ours / r[0]:.2f}")
    print("budget exceeded" if exceeded else "within budget")
    sys.exit(1 if exceeded else 0)


if __name__ == "__main__":
    main()
