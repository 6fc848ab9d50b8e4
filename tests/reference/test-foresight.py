# SPDX-License-Identifier: GPL-3.0-or-later
"""Where u comes from, and what one more reading would leave of it, against numpy: gains by the whole matrix, and each
candidate really added to it and solved anew.   test-foresight.py PROBE [SETS [SEED]]"""
import importlib
import sys

import numpy as np

import independent
import tap
from independent import Reading

solver = importlib.import_module("test-solver")

CANDIDATES = [Reading("travel", "X", 150), Reading("travel", "Y", 80, u=0.01), Reading("travel", "E", 100, u=0.2),
              Reading("travel", "X", 60, approach="reversed", u=0.02), Reading("outside", "X", 180, u=0.03),
              Reading("inside", "Y", 90, instrument="caliper"), Reading("center", "X+Y", 140, u=0.004),
              Reading("height", "Z", 40), Reading("travel", "XY@30", 70, u=0.03),
              Reading("position", "X", 120, u=0.01, group="new"), Reading("reversal", "X", 0, u=0.01)]


def close(found, wanted, what):
    if wanted is None:
        assert found is None, f"{what}: {found}, not unknown"
        return
    assert found is not None and abs(found - wanted) <= 1e-7 * wanted, f"{what}: {found!r}, not {wanted!r}"


def observed(names, scatter, stated):
    out = {}
    for name in names:
        if scatter == "stated" and name.split(".")[0] in independent.DEFAULTS:
            out[name] = independent.DEFAULTS[name.split(".")[0]]
        if name in stated:
            out[name] = stated[name]
    return out


def source_of(reading):
    return f"{reading.kind}.{reading.instrument}" if reading.instrument else reading.kind


def check_budget(result, solution, readings, scatter, stated):
    names = independent.unknowns(readings)
    both = observed(names, scatter, stated)
    free = [name for name in names if name not in both or both[name][1] != 0]
    sources = [source_of(r) for r in readings] + [name for name in both if both[name][1] != 0]
    gains = solution.covariance @ solution.jacobian.T
    assert gains.shape[1] == len(sources)
    found = {}
    for line in result["budget"]:
        found.setdefault(line["axis"], {})[line["source"]] = line
    assert set(found) == {name[-1] for name in names if name.startswith("scale")}
    for axis, lines in found.items():
        parts = gains[free.index("scale." + axis)] ** 2
        assert abs(sum(line["share"] for line in lines.values()) - 1) < 1e-12
        for source in set(sources):
            wanted = sum(part for part, s in zip(parts, sources) if s == source) / sum(parts)
            share = lines[source]["share"] if source in lines else 0.0
            assert abs(share - wanted) < 1e-8, f"{axis} {source}: {share}, not {wanted}"
            if wanted > 1e-12:
                close(lines[source]["u"], np.sqrt(share) * solution.u["scale." + axis], f"u of {axis} {source}")


def u_with(candidate, axis, solution, readings, scatter, stated, instruments):
    """u of the axis with @candidate among the rows, the matrix taken at the solution without it."""
    rows = readings + [candidate]
    names = independent.unknowns(rows)
    both = observed(names, scatter, stated)
    fixed = {name: value for name, (value, u) in both.items() if u == 0}
    both = {name: pair for name, pair in both.items() if name not in fixed}
    free = [name for name in names if name not in fixed]
    scale = f"scale.{axis}"
    nothing_known = [name for name in candidate.touched if name not in solution.values and name not in both
                     and name not in fixed and name != scale]
    if nothing_known or scale not in names:
        return solution.u.get(scale)
    if scatter == "stated":
        us = [r.u if r.u is not None else instruments.get(r.instrument, 0.05) for r in rows]
    elif all(r.u is not None for r in readings):
        us = [(r.u if r.u is not None else 1.0) * solution.sigma for r in rows]
    else:
        us = [solution.sigma] * len(readings) + [(candidate.u or 1.0) * solution.sigma]
    x = np.array([solution.values.get(name, both.get(name, (0.0,))[0]) for name in free])
    _, jacobian = independent.whitened(rows, us, both, free, fixed, x)
    length = np.linalg.norm(jacobian, axis=0)
    _, r = np.linalg.qr(jacobian / length)
    half = np.linalg.solve(r, np.eye(len(free))) / length[:, None]
    return float(np.linalg.norm(half[free.index(scale)]) * solution.birge)


def main():
    path = sys.argv[1]
    n = int(sys.argv[2]) if len(sys.argv) > 2 else 60
    rng = np.random.default_rng(int(sys.argv[3]) if len(sys.argv) > 3 else 7)
    sets = []
    while len(sets) < n:
        candidate = solver.random_set(rng)
        if solver.well_posed(*candidate):
            sets.append(candidate)
    results = independent.probe(path, "".join(
        independent.probe_text(r, s, t, i, candidates=CANDIDATES) for r, s, t, i in sets))
    better = [0]

    def check(number):
        readings, scatter, stated, instruments = sets[number]
        solution = independent.solve(readings, scatter, stated, instruments)
        check_budget(results[number], solution, readings, scatter, stated)
        for candidate, after in zip(CANDIDATES, results[number]["after"]):
            for axis in "XYZEA":
                wanted = u_with(candidate, axis, solution, readings, scatter, stated, instruments)
                close(after[axis], wanted, f"{candidate.line()}: {axis}")
                better[0] += wanted is not None and wanted < 0.9 * solution.u.get("scale." + axis, np.inf)

    def check_reach():
        assert better[0] > n, better

    tap.run([(f"set {i}: {sets[i][1]}, {len(sets[i][0])} readings", lambda i=i: check(i)) for i in range(n)]
            + [("candidates that tell something were among them", check_reach)])


if __name__ == "__main__":
    main()
