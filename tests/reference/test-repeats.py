# SPDX-License-Identifier: GPL-3.0-or-later
"""Pure error and lack of fit against R: anova of the line and of a mean for every place.
   test-repeats.py COMMAND"""
import json
import pathlib
import random
import subprocess
import sys
import tempfile

import tap

COMMAND = sys.argv[1]
FOLDER = tempfile.TemporaryDirectory(prefix="trammel-repeats-")
MACHINE = {"format": "trammel-machine", "version": 1, "axes": [
    {"letter": "X", "kind": "linear", "motor": {"type": "stepper", "full_steps": 200, "microsteps": 16},
     "output": {"type": "belt", "teeth": 20, "pitch": "2 mm"}}]}


def fit_of(rows, *options):
    path = pathlib.Path(FOLDER.name, "m.trammel")
    path.write_text(json.dumps({**MACHINE, "readings": rows}), encoding="utf-8")
    done = subprocess.run([COMMAND, "adjust", path, "--json", *options], capture_output=True, text=True, check=True)
    return json.loads(done.stdout)["fit"]


def ask_r(script):
    done = subprocess.run(["Rscript", "-e", script], capture_output=True, text=True, timeout=300, check=True)
    return [float(word) for word in done.stdout.split()]


def close(found, wanted, what, tolerance=1e-8):
    assert abs(found - wanted) <= tolerance * abs(wanted), f"{what}: {found!r}, not {wanted!r}"


def positions(seed, bend):
    rng = random.Random(seed)
    places = [p for p in (0, 20, 40, 60, 80, 100) for _ in range(rng.randint(1, 5))] + [40, 60]
    return [(p, 1.002 * p + 0.3 + bend * (p - 50) ** 2 + rng.gauss(0, 0.02), rng.choice((0.02, 0.04))) for p in places]


def anova(data, weighted):
    numbers = ["c(" + ",".join(repr(row[k]) for row in data) + ")" for k in range(3)]
    weights = f"w <- 1/{numbers[2]}^2" if weighted else f"w <- rep(1, {len(data)})"
    return ask_r(f"x <- {numbers[0]}; y <- {numbers[1]}; {weights}; "
                 "a <- anova(lm(y ~ x, weights = w), lm(y ~ factor(x), weights = w)); "
                 "cat(sprintf('%.17g', c(a$Res.Df[2], a$RSS[2], a$Df[2], a$'Sum of Sq'[2], a$F[2], a$'Pr(>F)'[2])))")


def check(weighted, bend):
    for seed in range(6):
        data = positions(seed, bend)
        rows = [{"kind": "position", "along": "X", "nominal": x, "measured": y, **({"u": u} if weighted else {})}
                for x, y, u in data]
        fit = fit_of(rows, "--scatter", "stated" if weighted else "estimated")
        dof, ss, lack_dof, lack_ss, f, p = anova(data, weighted)
        assert fit["pure_error"]["dof"] == dof
        close(fit["pure_error"]["ss"], ss, "pure error")
        close(fit["lack_of_fit"]["dof"], lack_dof, "degrees of freedom")
        close(fit["lack_of_fit"]["ss"], lack_ss, "lack of fit", 1e-6)
        close(fit["lack_of_fit"]["F"], f, "F", 1e-6)
        close(fit["lack_of_fit"]["p_value"], p, "p", 1e-5)


def test_equal_weights_as_r_has_it():
    check(False, 0)
    check(False, 2e-5)


def test_weights_as_r_has_them():
    check(True, 0)
    check(True, 2e-5)


tap.run([(name, case) for name, case in list(globals().items()) if name.startswith("test_")])
