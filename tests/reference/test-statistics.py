# SPDX-License-Identifier: GPL-3.0-or-later
"""Lines fitted by R: lm on the published data, with deleted residuals; the bisquare of MASS::rlm with its summary.
   test-statistics.py PROBE"""
import csv
import pathlib
import shutil
import subprocess
import sys

import numpy as np

import independent
import tap
from independent import Reading

NORRIS = pathlib.Path(__file__).with_name("nist-norris.csv")

SCRIPT = """
suppressPackageStartupMessages(library(MASS))
lines <- readLines(file("stdin"))
for (line in lines) {
  words <- strsplit(line, " ")[[1]]
  values <- matrix(as.numeric(words[-1]), ncol = 3)
  x <- values[, 1]; y <- values[, 2]; u <- values[, 3]
  if (words[1] == "lm") {
    fit <- lm(y ~ x, weights = 1 / u^2)
    table <- summary(fit)$coefficients
    out <- c(table[, 1], table[, 2], summary(fit)$sigma, qt(0.975, fit$df.residual), rstudent(fit))
  } else {
    fit <- rlm(cbind(1, x), y, weights = 1 / u^2, psi = psi.bisquare, acc = 1e-14, maxit = 2000)
    table <- summary(fit)$coefficients
    out <- c(table[, 1], table[, 2], fit$s, qt(0.975, length(x) - 2), fit$w)
  }
  cat(sprintf("%.17g", out), "\\n")
}
"""


def norris():
    with open(NORRIS, encoding="utf-8") as file:
        rows = list(csv.DictReader(line for line in file if not line.startswith("#")))
    return [Reading("position", "X", row["nominal"], row["measured"]) for row in rows]


def random_line(rng, relative):
    n = int(rng.integers(8, 60))
    rows = []
    for _ in range(n):
        u = float(np.round(10 ** rng.uniform(-2, -0.5), 4)) if relative else 1.0
        target = float(np.round(rng.uniform(-50, 300), 2))
        noise = rng.standard_t(3) * (u if relative else 0.05)
        rows.append(Reading("position", "X", target, np.round(0.7 + target * 1.003 + noise, 4), u if relative else None))
    for i in rng.permutation(n)[:int(rng.integers(0, n // 6 + 1))]:
        rows[i].measured += float(rng.choice([-1, 1]) * rng.uniform(1, 5))
    return rows


def ask_r(method, readings):
    columns = [[r.nominal for r in readings], [r.measured for r in readings], [r.u or 1.0 for r in readings]]
    return method + " " + " ".join(repr(float(v)) for column in columns for v in column)


def close(found, wanted, what, tolerance=1e-8):
    assert abs(found - wanted) <= tolerance * abs(wanted), f"{what}: {found!r}, not {wanted!r}"


def compare(result, numbers, robust):
    assert "error" not in result, result.get("error")
    parameters = {p["name"]: p for p in result["parameters"]}
    datum, scale = parameters["datum.X"], parameters["scale.X"]
    close(datum["value"], numbers[0], "datum", 1e-7 if robust else 1e-8)
    close(scale["value"] + 1, numbers[1], "slope")
    close(datum["u"], numbers[2], "u of datum", 1e-6 if robust else 1e-8)
    close(scale["u"], numbers[3], "u of scale", 1e-6 if robust else 1e-8)
    close(result["sigma"], numbers[4], "sigma", 1e-7 if robust else 1e-8)
    close(result["coverage_factor"], numbers[5], "quantile")
    if robust:
        for row, weight in zip(result["readings"], numbers[6:]):
            assert abs(row["weight"] - weight) < 1e-6, f"weight {row['weight']}, not {weight}"
        return
    from scipy import stats
    n = len(result["readings"])
    limit = stats.t.isf(0.025 / n, n - 3)
    for row, deleted in zip(result["readings"], numbers[6:]):
        assert row["suspect"] == (abs(deleted) > limit), f"suspect at {deleted}, limit {limit}"


def main():
    path = sys.argv[1]
    if not shutil.which("Rscript"):
        tap.run([("R", lambda: "Rscript is not here")])
    rng = np.random.default_rng(5)
    lines = [norris()] + [random_line(rng, i % 2 == 0) for i in range(40)]
    cases = [(method, readings) for readings in lines for method in ("lm", "rlm")]
    asked = "".join(ask_r(method, readings) + "\n" for method, readings in cases)
    answer = subprocess.run(["Rscript", "-e", SCRIPT], input=asked, capture_output=True, text=True, timeout=300, check=True)
    numbers = [[float(word) for word in line.split()] for line in answer.stdout.splitlines()]
    results = independent.probe(path, "".join(independent.probe_text(readings, "estimated", robust=method == "rlm")
                                              for method, readings in cases))
    assert len(numbers) == len(cases) == len(results)
    tap.run([(f"{method} of {len(readings)} readings", lambda i=i, m=method: compare(results[i], numbers[i], m == "rlm"))
             for i, (method, readings) in enumerate(cases)])


if __name__ == "__main__":
    main()
