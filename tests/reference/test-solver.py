# SPDX-License-Identifier: GPL-3.0-or-later
"""200 random well-posed sets of readings of all kinds: values, u and all that comes out, against the independent solver.
   test-solver.py PROBE [SETS [SEED]]"""
import sys

import numpy as np
from scipy import stats

import independent
import tap
from independent import Reading

DIAGONALS = ["X+Y", "X-Y", "X+Z", "X-Z", "Y+Z", "Y-Z", "X+Y+Z", "X-Y+Z", "X+Y-Z", "XY@30", "XY@-55.5", "YZ@20", "XZ@70"]
TRUTH_SIZES = {"scale": 0.01, "skew": 0.01, "shrink": 0.003, "bead": 0.2, "foot": 0.2, "lash": 0.3, "datum": 5.0}


def random_readings(rng, rich):
    """@rich: enough to tell everything without stated values."""
    rows = []
    axes = list(rng.permutation(["X", "Y", "Z"])[:rng.integers(1, 4)])
    size = lambda: float(np.round(rng.uniform(10, 200), 3))
    for axis in axes:
        if rng.random() < 0.7 or rich:
            rows += [Reading("outside", axis, size()) for _ in range(rng.integers(1, 3))]
            rows += [Reading("inside", axis, size()) for _ in range(2 if rich else rng.integers(0, 3))]
        if rng.random() < 0.3:
            rows += [Reading("center", axis, size()) for _ in range(rng.integers(1, 3))]
        if rng.random() < 0.6 or rich:
            rows += [Reading("travel", axis, size()) for _ in range(2 if rich else rng.integers(1, 3))]
            if rng.random() < 0.5:
                rows += [Reading("travel", axis, size(), approach="reversed") for _ in range(rng.integers(1, 3))]
        if rng.random() < 0.5:
            for group in [None, "a", "b"][:rng.integers(1, 4)]:
                both = rng.random() < 0.5
                for target in np.round(rng.uniform(-100, 200, rng.integers(3, 7)), 2):
                    rows.append(Reading("position", axis, target, group=group,
                                        approach=str(rng.choice(["+", "-"])) if both else None))
        if rng.random() < 0.3:
            rows += [Reading("reversal", axis, size()) for _ in range(rng.integers(1, 4))]
    if "Z" in axes and rng.random() < 0.5:
        rows += [Reading("height", "Z", size()) for _ in range(rng.integers(2, 4))]
    usable = [d for d in DIAGONALS if all(c in axes for c in d if c in "XYZ")]
    for direction in (list(rng.permutation(usable)[:rng.integers(0, 5)]) if usable else []):
        kinds = ["outside", "inside", "center", "travel"]
        rows += [Reading(str(rng.choice(kinds)), str(direction), size()) for _ in range(rng.integers(1, 3))]
    if rng.random() < 0.3:
        rows += [Reading("travel", "E", size()) for _ in range(3)]
    if rng.random() < 0.3:
        rows += [Reading("position", "A", target, approach=str(rng.choice(["+", "-"]))) for target in (0, 45, 90, 180)]
    return rows


def random_set(rng):
    scatter = str(rng.choice(["stated", "estimated"]))
    readings = random_readings(rng, scatter == "estimated")
    if not readings:
        return random_set(rng)
    truth = {name: rng.normal() * TRUTH_SIZES[name.split(".")[0]] for name in independent.unknowns(readings)}
    instruments = {"caliper": 0.03, "dial": 0.004}
    weights = rng.random()
    for r in readings:
        if weights < 0.6 or (scatter == "stated" and rng.random() < 0.5):
            r.u = float(np.round(10 ** rng.uniform(-2.5, -0.7), 5))
        elif rng.random() < 0.6:
            r.instrument = str(rng.choice(["caliper", "dial"]))
    more = float(rng.choice([1.0, 1.0, 3.0]))  # a third of the sets scatters more than it says
    for r in readings:
        u = r.u or instruments.get(r.instrument, 0.05)
        r.measured = float(np.round(independent.predicted(truth, r).real + more * u * rng.normal(), 4))
    if rng.random() < 0.3:
        rng.choice(np.array(readings, object)).measured += float(rng.choice([-1, 1])) * 2.5
    stated = {}
    for name in truth:
        if name.split(".")[0] in ("scale", "datum") or rng.random() < 0.7:
            continue
        size = TRUTH_SIZES[name.split(".")[0]]
        u = 0.0 if rng.random() < 0.3 else float(size * 10 ** rng.uniform(-1, 0.5))
        stated[name] = (float(truth[name] + u * rng.normal()), u)
    return readings, scatter, stated, instruments


def well_posed(readings, scatter, stated, instruments):
    names = independent.unknowns(readings)
    free = [name for name in names if stated.get(name, (0, 1))[1] != 0]
    believed = {name: independent.DEFAULTS[name.split(".")[0]] for name in free
                if scatter == "stated" and name.split(".")[0] in independent.DEFAULTS}
    believed.update({name: both for name, both in stated.items() if name in free})
    _, jacobian = independent.whitened(readings, [r.u or 0.05 for r in readings], believed, free,
                                       {name: both[0] for name, both in stated.items()}, np.zeros(len(free)))
    condition = np.linalg.cond(jacobian / np.linalg.norm(jacobian, axis=0)) if len(jacobian) >= len(free) else np.inf
    return condition < 3e3 and (scatter == "stated" or len(readings) >= len(free) + 2)


def close(found, wanted, what, scale=0.0):
    if wanted is None or found is None:
        assert found is None and (wanted is None or not np.isfinite(wanted)), f"{what}: {found}, not {wanted}"
        return
    assert abs(found - wanted) <= 1e-8 * max(abs(wanted), scale), f"{what}: {found!r}, not {wanted!r}"


def compare(result, wanted, readings):
    assert "error" not in result, result.get("error")
    assert {p["name"] for p in result["parameters"]} == set(wanted.values), "unknowns"
    for p in result["parameters"]:
        name = p["name"]
        close(p["value"], wanted.values[name], name, 1e-3 * wanted.u[name])
        close(p["u"], wanted.u[name], "u of " + name)
        close(p["high"], wanted.values[name] + wanted.factor * wanted.u[name], "high of " + name, wanted.u[name])
    for key in ("dof", "chi2", "p_value", "birge", "sigma"):
        close(result[key], getattr(wanted, key), key, 1e-6)
    deleted = independent.deleted_residuals(wanted, len(readings))
    limit = stats.t.isf(0.025 / len(readings), wanted.freedom - 1) if wanted.freedom > 1 else np.inf
    for i, r in enumerate(result["readings"]):
        close(r["residual"], readings[i].measured - independent.predicted(wanted.values, readings[i]).real,
              f"residual {i}", 1 + abs(readings[i].nominal))
        if wanted.leverage[i] < 1 - 1e-6:
            assert abs(r["standardized"] - wanted.standardized[i]) < 1e-5, f"standardized {i}"
        # With stated values in an estimated fit, what deletion does to their weight is another matter
        exact = wanted.sigma is None or wanted.dof == wanted.freedom
        if exact and abs(abs(deleted[i]) / limit - 1) > 1e-4:
            assert r["suspect"] == bool(abs(deleted[i]) > limit), f"suspect {i}: {deleted[i]}, limit {limit}"
    return sum(r["suspect"] for r in result["readings"])


def main():
    path = sys.argv[1]
    n = int(sys.argv[2]) if len(sys.argv) > 2 else 200
    rng = np.random.default_rng(int(sys.argv[3]) if len(sys.argv) > 3 else 20)
    sets = []
    while len(sets) < n:
        candidate = random_set(rng)
        if well_posed(*candidate):
            sets.append(candidate)
    results = independent.probe(path, "".join(independent.probe_text(r, s, t, i) for r, s, t, i in sets))
    totals = {"suspects": 0, "birge": 0, "estimated": 0, "kinds": set()}

    def check(number):
        readings, scatter, stated, instruments = sets[number]
        wanted = independent.solve(readings, scatter, stated, instruments)
        totals["suspects"] += compare(results[number], wanted, readings)
        totals["birge"] += wanted.birge > 1
        totals["estimated"] += scatter == "estimated"
        totals["kinds"].update(r.kind for r in readings)

    def variety():
        assert len(results) == n and len(totals["kinds"]) == 7
        for what in ("suspects", "birge", "estimated"):
            assert totals[what] >= n // 20, f"only {totals[what]} with {what}"

    tap.run([(f"set {i}: {len(s[0])} readings, {s[1]}", lambda i=i: check(i)) for i, s in enumerate(sets)]
            + [("the sets were of many kinds", variety)])


if __name__ == "__main__":
    main()
