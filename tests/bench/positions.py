# SPDX-License-Identifier: GPL-3.0-or-later
"""Times the position test of 1,000,000 readings with its cycles, and a million trials of the example machine's model
against the same trials in numpy, in one run. Ends with 1 when the budget is exceeded.
   positions.py TIMING-PROGRAM COMMAND MACHINE"""
import json
import pathlib
import subprocess
import sys
import tempfile
import time

import numpy as np

N, TRIALS, NUMPY_BLOCK = 1_000_000, 1_000_000, 100_000
BUDGET = 1.0  # seconds after reading


def write_table(path):
    rng = np.random.default_rng(8)
    target = np.round(np.sort(rng.uniform(0, 170, N)), 4)
    side = rng.choice([1, -1], N)
    measured = target * 0.996 - side * 0.02 + 0.05 * np.cos(2 * np.pi * target / 8 - 0.4) + rng.normal(0, 0.02, N)
    with open(path, "w", encoding="utf-8") as file:
        file.write("kind,along,nominal,measured,approach\n")
        file.writelines(f"position,X,{t:.4f},{m:.5f},{'+' if a > 0 else '-'}\n"
                        for t, m, a in zip(target, measured, side))


def terms(reading):
    """(axes with their unit components, bead faces, is printed, foot, loses lash) of a reading of the example."""
    along = reading["along"]
    if "+" in along or "-" in along:
        sign = 1 if "+" in along else -1
        c = {along[0]: 1 / np.sqrt(2), along[2]: sign / np.sqrt(2)}
    else:
        c = {along: 1.0}
    return c


def predict(reading, value):
    """Vectors of trials for @value; the law of cosines for a diagonal."""
    c, nominal, kind = terms(reading), reading["nominal"], reading["kind"]
    w = [(1 + value[f"scale.{axis}"]) * part * nominal for axis, part in c.items()]
    if len(w) == 1:
        length = np.abs(w[0])
    else:
        length = np.sqrt(w[0] ** 2 + w[1] ** 2 - 2 * w[0] * w[1] * np.sin(value["skew." + "".join(c)]))
    if kind == "travel":
        return length
    length = length * (1 - value["shrink"])
    if kind == "height":
        return length + value["foot"]
    faces = {"outside": 2, "inside": -2, "center": 0}[kind]
    return length + faces * value.get("bead", 0) * sum(abs(part) for axis, part in c.items() if axis in "XY")


def trials_in_numpy(result, us, birge, dof):
    """Every block: draws, then steps with the pseudo-inverse of the fit until they are short."""
    names = [p["name"] for p in result["parameters"]]
    fit = np.array([p["value"] for p in result["parameters"]])
    stated = [(i, p["stated"]) for i, p in enumerate(result["parameters"]) if p["stated"]]
    readings = result["readings"]

    def residuals(x, drawn, drawn_stated):
        value = dict(zip(names, x))
        rows = [(drawn[i] - predict(r, value)) / us[i] for i, r in enumerate(readings)]
        return np.array(rows + [(drawn_stated[k] - x[i]) / s["u"] for k, (i, s) in enumerate(stated)])

    measured = np.array([r["measured"] for r in readings])
    beliefs = np.array([s["value"] for _, s in stated])
    here = residuals(fit[:, None], measured[:, None], beliefs[:, None])[:, 0]
    jacobian = np.empty((len(here), len(fit)))
    for k in range(len(fit)):
        moved = fit.copy()
        moved[k] += 1e-7
        jacobian[:, k] = (here - residuals(moved[:, None], measured[:, None], beliefs[:, None])[:, 0]) / 1e-7
    inverse = np.linalg.pinv(jacobian)
    u = np.array([p["u"] for p in result["parameters"]])
    rng = np.random.default_rng(1)
    scales = []
    for _ in range(TRIALS // NUMPY_BLOCK):
        size = np.sqrt(dof / rng.chisquare(dof, NUMPY_BLOCK)) if birge > 1 else 1
        drawn = measured[:, None] + size * birge * np.array(us)[:, None] * rng.standard_normal((len(us), NUMPY_BLOCK))
        spread = np.array([s["u"] for _, s in stated])
        drawn_stated = beliefs[:, None] + size * birge * spread[:, None] * rng.standard_normal((len(stated), NUMPY_BLOCK))
        x = np.repeat(fit[:, None], NUMPY_BLOCK, axis=1)
        for _ in range(30):
            step = inverse @ residuals(x, drawn, drawn_stated)
            x += step
            if np.all(np.abs(step) <= 1e-6 * u[:, None]):
                break
        scales.append(x[names.index("scale.X")])
    return float(np.std(np.concatenate(scales), ddof=1))


def main():
    program, command, machine = sys.argv[1:]
    with tempfile.TemporaryDirectory() as folder:
        table = pathlib.Path(folder) / "positions.csv"
        write_table(table)
        done = subprocess.run([program, str(table), machine, str(TRIALS)], capture_output=True, text=True, check=True)
    found = json.loads(done.stdout)
    total = found["analysis"] + found["cycles"]
    assert abs(found["scale"] + 0.004) < 1e-4 and abs(found["amplitude"] - 0.05) < 1e-3, found
    print(f"{N} positions, each with a target of its own: analysed in {found['analysis']:.3f} s, cycles in "
          f"{found['cycles']:.3f} s, {total:.3f} s in all (budget {BUDGET:.0f})")

    result = json.loads(subprocess.run([command, "adjust", machine, "--json"], capture_output=True, text=True,
                                       check=True).stdout)
    document = json.loads(pathlib.Path(machine).read_text(encoding="utf-8"))
    instruments = {i["name"]: float(str(i["u"]).split()[0]) for i in document["instruments"]}
    rows = document["readings"]
    us = [float(str(rows[r["index"]].get("u", instruments.get(rows[r["index"]].get("instrument"), 0.05))).split()[0])
          for r in result["readings"]]
    start = time.perf_counter()
    u = trials_in_numpy(result, us, result["fit"]["birge"], result["fit"]["dof"])
    theirs = time.perf_counter() - start
    assert abs(u / found["u"] - 1) < 0.01, (u, found["u"])
    print(f"{TRIALS} trials of the example's model: {found['trials']:.2f} s on all cores; numpy {theirs:.2f} s: ratio "
          f"{found['trials'] / theirs:.2f}")
    print("budget exceeded" if total > BUDGET else "within budget")
    sys.exit(1 if total > BUDGET else 0)


main()
