# SPDX-License-Identifier: GPL-3.0-or-later
"""Repeated homing against published data with certified values, exact arithmetic, R and scipy.
   test-homing.py COMMAND"""
import fractions
import json
import math
import pathlib
import shutil
import subprocess
import sys
import tempfile

import numpy as np
from scipy import integrate, optimize, stats

import tap

COMMAND = sys.argv[1]
FOLDER = tempfile.TemporaryDirectory(prefix="trammel-homing-")


def homing(text):
    path = pathlib.Path(FOLDER.name, "homes.csv")
    path.write_text(text, encoding="utf-8")
    done = subprocess.run([COMMAND, "homing", "--json", "--readings", path], capture_output=True, text=True, check=True)
    return json.loads(done.stdout)


def plain(values):
    return "".join(f"{v}\n" for v in values)


def close(found, wanted, what, tolerance=1e-9, absolute=1e-300):
    assert abs(found - wanted) <= tolerance * abs(wanted) + absolute, f"{what}: {found!r}, not {wanted!r}"


def ask_r(script):
    done = subprocess.run(["Rscript", "-e", script], capture_output=True, text=True, timeout=300, check=True)
    return [float(word) for word in done.stdout.split()]


def exactly(texts):
    """Mean and s of what doubles make of decimal texts, in whole numbers and one square root."""
    values = [fractions.Fraction(float(t)) for t in texts]
    mean = sum(values) / len(values)
    square = sum((v - mean) ** 2 for v in values) / (len(values) - 1)
    scale = 10 ** 80
    return float(mean), math.isqrt(square.numerator * scale // square.denominator) / 10 ** 40


def accuracy_data(start, low, high):
    return [start] + [low, high] * 500


# NIST Statistical Reference Datasets, univariate summary statistics (public domain). NumAcc1 to 4 are made as they are
# defined; Michelso is `morley` of R, thousands of km/s. Name, data, certified mean and s, tolerance of s
CERTIFIED = [
    ("NumAcc1", ["10000001", "10000003", "10000002"], 10000002, 1, 1e-15),
    ("NumAcc2", accuracy_data("1.2", "1.1", "1.3"), 1.2, 0.1, 1e-13),
    ("NumAcc3", accuracy_data("1000000.2", "1000000.1", "1000000.3"), 1000000.2, 0.1, 1e-8),
    ("NumAcc4", accuracy_data("10000000.2", "10000000.1", "10000000.3"), 10000000.2, 0.1, 1e-7),
]


def certified(texts, mean, s, tolerance):
    found = homing(plain(texts))
    exact_mean, exact_s = exactly(texts)
    assert found["n"] == len(texts)
    close(found["mean"], mean, "mean", 1e-15)
    close(found["s"], s, "s", tolerance)
    close(found["mean"], exact_mean, "mean in whole numbers", 4e-16)
    close(found["s"], exact_s, "s in whole numbers", 1e-14)


def michelson():
    if not shutil.which("Rscript"):
        return "Rscript is not here"
    speeds = ask_r("cat(morley$Speed)")
    certified([f"{299 + v / 1000:.3f}" for v in speeds], 299.852400000000, 0.0790105478190518, 1e-13)
    return None


SCRIPT = """
x <- c(%s)
n <- length(x)
fit <- summary(lm(x ~ seq_along(x)))$coefficients
reach <- qt(0.975, n - 1) * sd(x) * sqrt(1 + 1/n)
t <- qt(1 - 0.05/(2*n), n - 2)
cat(sprintf("%%.17g", c(mean(x), sd(x), fit[2, ], mean(x) - reach, mean(x) + reach,
                        (n - 1)/sqrt(n)*sqrt(t^2/(n - 2 + t^2)), max(abs(x - mean(x)))/sd(x))))
"""


def against_r(values):
    if not shutil.which("Rscript"):
        return "Rscript is not here"
    found = homing(plain(values))
    mean, s, slope, u, _, p, low, high, critical, g = ask_r(SCRIPT % ",".join(values))
    for key, wanted in (("mean", mean), ("s", s)):
        close(found[key], wanted, key)
    close(found["drift"]["slope"], slope, "slope", 1e-9, 1e-13 * s)
    close(found["drift"]["u"], u, "u of slope")
    close(found["drift"]["p_value"], p, "p of slope", 1e-7)
    close(found["prediction"]["low"], low, "prediction")
    close(found["prediction"]["high"], high, "prediction")
    assert bool(found["outliers"]) == (g > critical), (g, critical)
    if found["outliers"]:
        close(found["outliers"][0]["g"], g, "g")
        close(found["outliers"][0]["critical"], critical, "critical g")
    return None


def two_sets(a, b):
    if not shutil.which("Rscript"):
        return "Rscript is not here"
    rows = "measured,set\n" + "".join(f"{v},a\n" for v in a) + "".join(f"{v},b\n" for v in b)
    found = homing(rows)["comparison"]
    f, f_p, t, dof, t_p = ask_r(f"a <- c({','.join(a)}); b <- c({','.join(b)}); f <- var.test(a, b); t <- t.test(a, b);"
                                'cat(sprintf("%.17g", c(f$statistic, f$p.value, t$statistic, t$parameter, t$p.value)))')
    close(found["f_test"]["ratio"], f, "F")
    close(found["f_test"]["p_value"], f_p, "p of F", 1e-7, 1e-12)
    close(found["welch"]["t"], t, "t", 1e-8)
    close(found["welch"]["dof"], dof, "degrees of freedom")
    close(found["welch"]["p_value"], t_p, "p of t", 1e-7, 1e-12)
    return None


def exact_factor(n, coverage, confidence):
    """The integral of ISO 16269-6, r² as a quantile of the noncentral χ² with one degree of freedom."""
    def missed(k):
        def inside(z):
            square = stats.ncx2.ppf(coverage, 1, z * z) if z else stats.chi2.ppf(coverage, 1)
            return math.exp(-n * z * z / 2) * stats.chi2.sf((n - 1) * square / k ** 2, n - 1)
        end = 8 / math.sqrt(n)
        total = integrate.quad(inside, 0, end, epsabs=1e-12, epsrel=1e-11, limit=200)[0]
        return 2 * math.sqrt(n / (2 * math.pi)) * total - confidence
    return optimize.brentq(missed, 1, 200, xtol=1e-10, rtol=1e-12)


def tolerance(n):
    rng = np.random.default_rng(n)
    found = homing(plain(repr(float(v)) for v in rng.normal(0, 1, n)))
    close(found["tolerance"]["factor"], exact_factor(n, 0.99, 0.95), "exact factor", 1e-7)
    howe = stats.norm.ppf(0.995) * math.sqrt((n - 1) * (1 + 1 / n) / stats.chi2.ppf(0.05, n - 1))
    close(found["tolerance"]["factor_howe"], howe, "Howe's factor")
    close(found["tolerance"]["high"] - found["mean"], found["tolerance"]["factor"] * found["s"], "reach")


def random_values(rng, n):
    values = rng.normal(rng.uniform(-5, 50), 10 ** rng.uniform(-4, 0), n)
    if rng.uniform() < 0.4:
        values[rng.integers(n)] += 8 * np.std(values)
    return [f"{v:.6f}" for v in values]


def main():
    rng = np.random.default_rng(11)
    cases = [(name, lambda r=rest: certified(*r)) for name, *rest in CERTIFIED] + [("Michelso", michelson)]
    cases += [(f"R, {n} homes", lambda v=random_values(rng, n): against_r(v)) for n in (3, 5, 8, 12, 20, 40, 100)]
    cases += [(f"R, sets of {n} and {m}", lambda a=random_values(rng, n), b=random_values(rng, m): two_sets(a, b))
              for n, m in ((2, 2), (5, 5), (10, 4), (30, 12))]
    cases += [(f"scipy, tolerance factor of {n}", lambda n=n: tolerance(n)) for n in (2, 3, 5, 10, 30, 100, 1000)]
    tap.run(cases)


if __name__ == "__main__":
    main()
